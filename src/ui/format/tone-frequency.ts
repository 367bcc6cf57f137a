/** "997 Hz", "43.3 Hz": a planned frequency, which is exact, without idle zeros. */
export function toneFrequency(frequencyHz: number): string {
  return `${Number(frequencyHz.toFixed(2))} Hz`;
}

/** "at −5 dB": a tone's level below full scale. */
export function toneLevel(levelDbfs: number): string {
  return levelDbfs === 0 ? '0 dBFS' : `−${Number(Math.abs(levelDbfs).toFixed(2))} dBFS`;
}
