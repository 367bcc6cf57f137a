/** How many times faster than real time the practice rig makes samples, one second after another. */
import { DEMO_CONTROLS, DEMO_RIG, DEMO_TONE } from '../../src/rig/demo-rig.ts';
import { PracticeRig } from '../../src/rig/practice-rig.ts';
import type { RigTone } from '../../src/rig/rig.ts';

const SECONDS = 10;
const BLOCK_FRAMES = 1024;

const PINK: RigTone = {
  kind: 'track',
  spec: { kind: 'pink', lowHz: 20, highHz: 20_000, levelDbfs: -20, durationSeconds: 4, seed: 1 },
  channels: 'both',
  loop: true,
};

function realTimeFactor(probe: string, tone: RigTone = DEMO_TONE): number {
  const controls = { ...DEMO_CONTROLS, probe, gains: { [probe]: 0.7 } };
  const rig = new PracticeRig(DEMO_RIG, controls, tone);
  const channels = [new Float32Array(BLOCK_FRAMES)];
  const blocks = Math.round((SECONDS * DEMO_RIG.sampleRateHz) / BLOCK_FRAMES);
  rig.fill(channels, BLOCK_FRAMES);
  const started = performance.now();
  for (let block = 0; block < blocks; block += 1) rig.fill(channels, BLOCK_FRAMES);
  const seconds = (performance.now() - started) / 1000;
  return (blocks * BLOCK_FRAMES) / DEMO_RIG.sampleRateHz / seconds;
}

export async function run(): Promise<{ name: string; figures: Record<string, number> }> {
  return {
    name: 'practice rig, clipped tone',
    figures: {
      'real-time factor, a door (one radio output)': realTimeFactor('front-left'),
      'real-time factor, the subwoofer (both outputs)': realTimeFactor('subwoofer'),
      'real-time factor, a looped track of pink noise at a door': realTimeFactor('front-left', PINK),
      'real-time factor, the cabin with five channels': realTimeFactor('cabin'),
      'real-time factor, the cabin with five channels, pink noise': realTimeFactor('cabin', PINK),
    },
  };
}
