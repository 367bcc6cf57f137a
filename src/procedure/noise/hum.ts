import type { MainsComb } from '../../dsp/noise/mains-comb.ts';
import { ENGINE_STATES, type EngineState, type Hum, type NoiseState } from './noise.ts';
import { traceHum } from './way-in.ts';

/** Mains hum, told by the recording in which it stands highest over the floor. */
export function hearHum(state: Pick<NoiseState, 'takes' | 'unplugged'>): Hum | null {
  const heard: { engine: EngineState; mains: MainsComb }[] = ENGINE_STATES.flatMap((engine) => {
    const mains = state.takes[engine]?.mains ?? null;
    return mains === null ? [] : [{ engine, mains }];
  });
  const [first] = heard;
  if (first === undefined) return null;
  const { mains } = heard.reduce(
    (best, one) => (one.mains.overFloorDb > best.mains.overFloorDb ? one : best),
    first,
  );
  const strongest = mains.lines.reduce((best, line) => (line.levelDbfs > best.levelDbfs ? line : best));
  return {
    nominalHz: mains.nominalHz,
    fundamentalHz: mains.fundamentalHz,
    uncertaintyHz: mains.uncertaintyHz,
    levelDbfs: mains.levelDbfs,
    overFloorDb: mains.overFloorDb,
    strongestOrder: strongest.order,
    heardIn: heard.map(({ engine }) => engine),
    ...traceHum(state),
  };
}
