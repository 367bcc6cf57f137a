/** What the knee trace draws, worked out without a canvas. */
import { expect, it } from 'vitest';
import type { GainState, TracePoint } from '../../src/procedure/gain/gain.ts';
import { gainStart } from '../../src/procedure/gain/gain-steps.ts';
import { LOWEST_PERCENT, traceView, traceWords } from '../../src/ui/knee-trace/trace-view.ts';
import { FRONT_LEFT } from './gain-turn.ts';

const START = gainStart({ ...FRONT_LEFT, aimVolts: 17.32, targetVolts: 17.32 });

function point(turn: number, volts: number | null, levelDbfs: number, thdPercent: number): TracePoint {
  return { turn, volts, levelDbfs, thdPercent, verdict: 'clean' };
}

function stateWith(part: Partial<GainState>): GainState {
  return { ...START, ...part };
}

it('fills the dots of this turn and leaves those of earlier turns open', () => {
  const state = stateWith({ turn: 1, trace: [point(0, 12, -9, 0.02), point(1, 15, -7, 0.03)] });
  const view = traceView(state);
  expect(view.earlierTurns).toEqual([{ x: 12, y: 0.02 }]);
  expect(view.thisTurn).toEqual([{ x: 15, y: 0.03 }]);
  expect(view.unit).toBe('V');
  expect(view.lowest).toBeLessThan(12);
  expect(view.highest).toBeGreaterThan(17.32);
});

it('draws against level where no volt is known, and then has no target to draw', () => {
  const view = traceView(stateWith({ trace: [point(0, null, -9, 0.02)] }));
  expect(view).toMatchObject({ unit: 'dBFS', thisTurn: [{ x: -9, y: 0.02 }], target: null });
});

it('keeps a distortion below the axis on the axis', () => {
  const view = traceView(stateWith({ trace: [point(0, 12, -9, 0)] }));
  expect(view.thisTurn).toEqual([{ x: 12, y: LOWEST_PERCENT }]);
});

it('shows target and knee, and says where the knee lies', () => {
  const knee = {
    volts: 18.35,
    levelDbfs: -5,
    uncertaintyDb: 0.02,
    from: 'overdrive',
    crossCheckDb: null,
    disputed: false,
  } as const;
  const state = stateWith({ knee, trace: [point(0, 12, -9, 0.02)] });
  expect(traceView(state)).toMatchObject({ target: 17.32, knee: 18.35 });
  // 20 lg(18.35 / 17.32) = 0.50 dB.
  expect(traceWords(state)).toContain('Knee at 18.35 V ± 0.040 dB, 0.5 dB above the target.');
  expect(traceWords({ ...state, knee: null })).toContain('No knee found yet.');
});
