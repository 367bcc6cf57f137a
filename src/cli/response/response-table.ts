/** What `response` prints for a person. */
import type { ChannelResponse } from '../../dsp/response/channel-response.ts';
import { figure, formatTable } from '../table.ts';
import type { RespondedChannel, ResponseDocument } from './response-document.ts';

const HEADER = ['Hz', 'level dB', 'H2 dBc', 'H3 dBc'];
const ALIGNMENTS: Record<string, string> = {
  butterworth: 'Butterworth',
  'linkwitz-riley': 'Linkwitz-Riley',
  bessel: 'Bessel',
};

/** 99.77 Hz by the standard's powers of ten, called 100 Hz everywhere: three digits are enough for the eye. */
function hertz(value: number): string {
  return `${Number(value.toPrecision(3))}`;
}

function filterLine(filter: RespondedChannel['filters'][number]): string {
  const alignment =
    filter.alignment === null ? 'alignment not to be told' : (ALIGNMENTS[filter.alignment] ?? '');
  const order =
    filter.order === null
      ? 'order not to be told'
      : `order ${filter.order} (${filter.slopeDbPerOctave} dB per octave)`;
  const corner = `${Number(filter.cutoffHz.toPrecision(5))} Hz ± ${Number(filter.cutoffUncertaintyHz.toPrecision(2))} Hz`;
  return `${filter.kind} at ${corner}, ${alignment}, ${order}, residual ${filter.residualDb.toFixed(2)} dB`;
}

function filterLines(channel: RespondedChannel): string[] {
  if (channel.verdict === null) return ['nothing stands far enough out of the noise to look for filters'];
  const between = `from ${Math.round(channel.fittedFromHz ?? 0)} to ${Math.round(channel.fittedToHz ?? 0)} Hz`;
  const residual = `${(channel.residualDb ?? 0).toFixed(2)} dB`;
  if (channel.verdict === 'flat') return [`no filter ${between}; flat within ${residual} rms`];
  if (channel.verdict !== 'filters') {
    return [`none of these filters ${between}: the best fit misses by ${residual} rms`];
  }
  return channel.filters.map(filterLine);
}

function nearest(frequenciesHz: readonly number[], wantedHz: number): number {
  return frequenciesHz.findIndex((frequencyHz) => frequencyHz > wantedHz * 0.999);
}

function rows(response: ChannelResponse): string[][] {
  return response.thirdOctaves.map(({ frequencyHz, levelDb }) => {
    const at = nearest(response.frequenciesHz, frequencyHz);
    const harmonic = (order: number) =>
      response.harmonics.find((listed) => listed.order === order)?.levelsDbc[at] ?? null;
    return [hertz(frequencyHz), figure(levelDb, 2), figure(harmonic(2), 1), figure(harmonic(3), 1)];
  });
}

/** @param responses of the channels in which the sweep was found; `null` elsewhere */
export function responseTable(
  document: ResponseDocument,
  responses: readonly (ChannelResponse | null)[],
): string {
  const by = document.reference === null ? '' : `, divided by ${document.reference}`;
  const parts = document.channels.map((channel, index) => {
    const response = responses[index] ?? null;
    if (response === null) return `channel ${channel.index}: the sweep is not in it\n`;
    const start = `sweep from ${(channel.sweepStartSeconds ?? 0).toFixed(3)} s`;
    const found = filterLines(channel).map((line) => `channel ${channel.index}: ${line}\n`);
    return `channel ${channel.index}: ${start}${by}\n${formatTable(HEADER, rows(response))}${found.join('')}`;
  });
  return `${document.file}: ${document.sweep.tracks.join(', ')}\n${parts.join('\n')}`;
}
