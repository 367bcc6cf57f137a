import type { EngineState, NoisePurpose } from '../../../../procedure/noise/noise.ts';

export const ENGINE_NAMES: Record<EngineState, string> = {
  off: 'engine off',
  idle: 'idling',
  revved: 'revved',
};

/** What pressing the main action does. */
export function actionWords({ engine, lead }: NoisePurpose): string {
  if (lead === 'unplugged') return 'Record with the lead pulled';
  return engine === 'off' ? 'Record with the engine off' : `Record with the engine ${ENGINE_NAMES[engine]}`;
}
