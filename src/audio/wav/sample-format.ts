/** How one sample is stored. All little-endian; 8-bit is unsigned around 128, the wider ones signed. */
export type SampleFormat = 'pcm8' | 'pcm16' | 'pcm24' | 'pcm32' | 'float32' | 'float64';

export const BYTES_PER_SAMPLE: Record<SampleFormat, number> = {
  pcm8: 1,
  pcm16: 2,
  pcm24: 3,
  pcm32: 4,
  float32: 4,
  float64: 8,
};
