/** Which stage clips, by two readings, on practice rigs whose ceilings are known; and the hint of the missing side. */
import { describe, expect, it, vi } from 'vitest';
import { gainResult } from '../../src/procedure/gain/result.ts';
import { DEMO_RIG } from '../../src/rig/demo-rig.ts';
import { faultyRig } from '../../src/rig/faults.ts';
import { gainSetting } from '../../src/rig/settings.ts';
import { Hand } from './gain-hand.ts';

// A minute of the rig's sound takes its time on a busy machine.
vi.setConfig({ testTimeout: 180_000 });

const FRONT_LEFT = DEMO_RIG.channels[0]!;
const EARLY_RADIO = faultyRig(DEMO_RIG, 'radio-clips-early');
const EARLY_CONVERTER = { ...DEMO_RIG, converter: { ...DEMO_RIG.converter, ceilingPeakVolts: 0.8 } };

/** The front left door with its gain at so many decibels, in its second second. */
function found(gainDb: number, config = DEMO_RIG): Hand {
  const gains = { 'front-left': gainSetting(FRONT_LEFT, gainDb) };
  const hand = new Hand('front-left', { config, controls: { gains } });
  hand.rest(1.2);
  return hand;
}

function twoReadings(hand: Hand, lowerDb = 6): void {
  hand.tell({ type: 'stage-check' });
  hand.rest(1.5);
  hand.turn(-lowerDb, 6);
  hand.rest(1.5);
}

describe('two readings', () => {
  it('name the amplifier that is past its knee, and say how much to turn back', () => {
    const hand = new Hand('front-left', { config: faultyRig(DEMO_RIG, 'amplifier-past-knee') });
    hand.rest(1.2);
    expect(hand.state.aim.zone).toBe('past-knee');
    const overDb = hand.state.latest?.clipping.overdriveDb ?? 0;
    expect(hand.state.instruction).toMatch(/clips as found, \d\.\d dB past a ceiling: take two readings/);
    expect(hand.state.findings).toEqual([]);
    twoReadings(hand);
    expect(hand.state.stageCheck?.named).toMatchObject({ stage: 'amplifier' });
    expect(hand.state.stageCheck?.named?.turnBackDb).toBeCloseTo(overDb + 0.5, 1);
    expect(hand.state.findings.map((one) => one.fault)).toEqual(['amplifier-past-knee']);
    expect(hand.state.findings[0]?.remedy).toMatch(
      /^Turn this gain back by \d\.\d dB from where it was found/,
    );
    expect(hand.state.findings[0]?.evidence).toMatch(
      /^Distortion goes from \d+ % to [\d.e-]+ % as the level falls/,
    );
    hand.aim();
    expect(gainResult(hand.state).clippingStage).toMatchObject({ stage: 'amplifier' });
  });

  it.each([
    ['the radio', EARLY_RADIO],
    ['the converter', EARLY_CONVERTER],
  ])('name a stage ahead of the amplifier where it is %s', (_, config) => {
    const hand = found(24, config);
    twoReadings(hand);
    expect(hand.state.stageCheck?.named).toMatchObject({ stage: 'upstream', turnBackDb: null });
    expect(hand.state.findings.map((one) => one.fault)).toEqual(['earlier-stage-clips']);
    expect(hand.state.findings[0]?.evidence).toMatch(/^Distortion stays at \d+ %/);
  });

  it('need not be taken where turning up has shown already that a stage ahead clips', () => {
    const hand = found(12, EARLY_RADIO);
    hand.turn(8, 4);
    hand.rest(1);
    expect(hand.state.findings.map((one) => one.fault)).toEqual(['earlier-stage-clips']);
    expect(hand.state.findings[0]?.evidence).toMatch(/^Distortion stays at \d+ %/);
    hand.tell({ type: 'stage-check' });
    expect(hand.state.stageCheck).toMatchObject({ phase: 'named', named: { stage: 'upstream' } });
  });

  it('work upwards too, from a control that is fully down', () => {
    const hand = found(FRONT_LEFT.lowestGainDb, EARLY_RADIO);
    twoReadings(hand, -6);
    expect(hand.state.stageCheck?.named).toMatchObject({ stage: 'upstream' });
  });

  it('name our own input where its codes stand at their ends', () => {
    const hand = found(25, { ...DEMO_RIG, input: { ...DEMO_RIG.input, voltsPerFs: 8 } });
    hand.tell({ type: 'stage-check' });
    hand.rest(1);
    expect(hand.state.stageCheck?.named).toMatchObject({ stage: 'input' });
    expect(hand.state.findings.map((one) => one.fault)).toEqual(['input-overload']);
  });

  it('name nothing on a clean channel', () => {
    const hand = found(24);
    hand.tell({ type: 'stage-check' });
    hand.rest(1.2);
    expect(hand.state.stageCheck?.named).toMatchObject({ stage: 'none' });
    expect(hand.state.findings).toEqual([]);
  });

  it('do not name a stage before the gain has been turned', () => {
    const hand = found(29.2);
    hand.tell({ type: 'stage-check' });
    hand.rest(5);
    expect(hand.state.stageCheck).toMatchObject({ phase: 'lower', named: null });
    expect(hand.state.instruction).toMatch(/^Turn this gain down by about 6 dB/);
    expect(hand.state.acceptance).toMatchObject({ can: false, why: expect.stringMatching(/^Two readings/) });
  });
});

it('a ceiling that nobody has seen a clean wave under moves no aim', () => {
  const hand = found(FRONT_LEFT.lowestGainDb, EARLY_RADIO);
  expect(hand.state.aim).toMatchObject({ zone: 'past-knee', limitedByKnee: false });
  expect(hand.state.aim.aimVolts).toBeCloseTo(17.3205, 4);
});

describe('a third reading at the radio’s terminals', () => {
  it.each([
    ['clipped', 'radio', 'radio-clips-early'],
    ['clean', 'converter', 'converter-clips'],
  ] as const)('%s there: it is the %s', (verdict, stage, fault) => {
    const hand = found(24, EARLY_RADIO);
    twoReadings(hand);
    const { latest, trace } = hand.state;
    hand.tell({ type: 'stage-radio' });
    const there = { ...latest!, volts: 2, levelDbfs: -24, clipping: { ...latest!.clipping, verdict } };
    for (let count = 0; count < 12; count++) hand.tell({ type: 'reading', reading: there });
    expect(hand.state.stageCheck?.named?.stage).toBe(stage);
    expect(hand.state.findings.map((one) => one.fault)).toEqual([fault]);
    expect(hand.state.instruction).toMatch(/^Put the lead back on this channel/);
    expect(hand.state.acceptance.can).toBe(false);
    // What was read there is no reading of this channel.
    expect([hand.state.latest, hand.state.trace]).toEqual([latest, trace]);
  });
});

describe('a summed subwoofer', () => {
  it('with the tone on one side only, set before with both: hints that a side is missing', () => {
    const both = new Hand('subwoofer');
    both.aim();
    expect(both.state.hint).toBeNull();
    const gains = { subwoofer: gainSetting(DEMO_RIG.channels[4]!, both.gainDb) };
    const left = new Hand('subwoofer', { sides: 'left', controls: { gains } });
    left.rest(1.5);
    // 20 lg(1/2): one of two equal voltages.
    expect(left.state.aim.errorDb! - both.state.aim.errorDb!).toBeCloseTo(-6.02, 2);
    expect(left.state.hint).toMatch(/^6\.\d dB low is what a tone on one of the 2 inputs reads/);
    expect(left.state.findings).toEqual([]);
  });
});
