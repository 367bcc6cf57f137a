/** Where each part of a chain stands on paper: one column, from the source down to the last driver. */
import type { Job, JobAmplifier, JobChannel } from '../../../../job/document.ts';
import { type Box, type CircuitLayout, circuitLayout } from '../../../../job/drawing/circuit-layout.ts';
import { driverGroupNetwork } from '../../../../plan/load/driver-group.ts';
import { PlanRefused } from '../../../../plan/refused.ts';
import type { ChainSentences } from '../chain-sentences.ts';

export interface PlacedChannel {
  channel: JobChannel;
  box: Box;
  /** Height of the wire that the amplifier's channel stands on. */
  wireY: number;
  /** `null` where the wiring cannot be made. */
  circuit: { layout: CircuitLayout; x: number; y: number; scale: number } | null;
  lines: string[];
}

export interface PlacedAmplifier {
  amplifier: JobAmplifier;
  box: Box;
  channels: PlacedChannel[];
}

/** The left and the right side's wire, each as far down as somebody is fed from it. */
export interface Trunk {
  left: number;
  right: number;
  top: number;
  leftBottom: number;
  rightBottom: number;
}

export interface ChainLayout {
  width: number;
  height: number;
  source: Box;
  /** From the foot of the source to the head of the converter. */
  pickup: { top: number; bottom: number };
  converter: Box;
  trunk: Trunk;
  amplifiers: PlacedAmplifier[];
}

const EDGE = 2;
const HEAD = 62;
const GAP = 16;
const PICKUP = { 'speaker-level': 74, 'line-level': 46 } as const;
const TRUNK = { left: 12, right: 26 } as const;
/** Left side of the amplifiers, of a channel's triangle, and of its drivers. */
export const COLUMNS = { amplifier: 40, triangle: 74, drivers: 106 } as const;
/** Room kept free at the right for ohms and volts. */
const FIGURES = 78;
const LINE = 17;
/** How far above and below its wire the two sides enter a sum. */
export const SUM_APART = 13;

/** Least that the feed and the figures need above and below the wire. */
const OVER_WIRE = 46;
const UNDER_WIRE = 26;

function circuitOf(channel: JobChannel): CircuitLayout | null {
  try {
    return circuitLayout(driverGroupNetwork(channel.drivers));
  } catch (fault) {
    if (fault instanceof PlanRefused) return null;
    throw fault;
  }
}

function placedChannel(channel: JobChannel, lines: string[], y: number, width: number): PlacedChannel {
  const layout = circuitOf(channel);
  const scale = layout === null ? 1 : Math.min(1, (width - FIGURES - COLUMNS.drivers) / layout.width);
  // The circuit's plus side meets the wire; across, that is the height of its terminals.
  const overPlus =
    layout === null ? 0 : (layout.runs === 'across' ? layout.plus.y : layout.height / 2) * scale;
  const overWire = Math.max(OVER_WIRE, 26 + overPlus);
  const wireY = y + overWire;
  const underPlus = layout === null ? 0 : layout.height * scale - overPlus;
  const height = overWire + Math.max(UNDER_WIRE, underPlus + 6) + lines.length * LINE;
  return {
    channel,
    box: { x: COLUMNS.amplifier, y, width: width - COLUMNS.amplifier - EDGE, height },
    wireY,
    circuit: layout === null ? null : { layout, x: COLUMNS.drivers, y: wireY - overPlus, scale },
    lines,
  };
}

function placedAmplifier(
  job: Job,
  amplifier: JobAmplifier,
  sentences: ChainSentences,
  y: number,
  width: number,
): PlacedAmplifier {
  let at = y + HEAD - 8;
  const channels = job.channels
    .filter((channel) => channel.amplifierId === amplifier.id)
    .map((channel) => {
      const placed = placedChannel(channel, sentences.underChannel(channel), at, width);
      at += placed.box.height;
      return placed;
    });
  const box = { x: COLUMNS.amplifier, y, width: width - COLUMNS.amplifier - EDGE, height: at - y + 6 };
  return { amplifier, box, channels };
}

function trunkOf(amplifiers: readonly PlacedAmplifier[], top: number): Trunk {
  const channels = amplifiers.flatMap((placed) => placed.channels);
  const lowest = (side: 'left' | 'right', apart: number) =>
    Math.max(
      top + GAP,
      ...channels.flatMap(({ channel: { fedBy }, wireY }) => {
        if (fedBy === 'both') return [wireY + apart];
        return fedBy === side ? [wireY] : [];
      }),
    );
  return { ...TRUNK, top, leftBottom: lowest('left', -SUM_APART), rightBottom: lowest('right', SUM_APART) };
}

/**
 * Lays a job's chain out on paper of this width.
 * @param sentences what is written under a part, line by line
 */
export function chainLayout(job: Job, width: number, sentences: ChainSentences): ChainLayout {
  const whole = { x: EDGE, width: width - 2 * EDGE };
  const source = { ...whole, y: EDGE, height: HEAD };
  const pickup = { top: EDGE + HEAD, bottom: EDGE + HEAD + PICKUP[job.source.pickup] };
  const converter = { ...whole, y: pickup.bottom, height: job.converter === null ? 40 : HEAD };
  const top = converter.y + converter.height;
  let at = top + GAP + 8;
  const amplifiers = job.amplifiers.map((amplifier) => {
    const placed = placedAmplifier(job, amplifier, sentences, at, width);
    at += placed.box.height + GAP;
    return placed;
  });
  return {
    width,
    height: at - GAP + EDGE,
    source,
    pickup,
    converter,
    trunk: trunkOf(amplifiers, top),
    amplifiers,
  };
}
