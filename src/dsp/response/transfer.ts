/**
 * A complex response as plain data on a grid that does not depend on the sweep: what one recording gave can be
 * divided by what another gave, added to it, or kept.
 */
import type { FrequencyBand } from './channel-response.ts';
import { curveFrequencies, curvePoint } from './curve.ts';
import type { LevelPoints } from './level-points.ts';
import type { ResponseSpectrum } from './response-spectrum.ts';

/** `null` in one list is `null` in all: the point does not stand out of the noise. */
export interface Transfer {
  frequenciesHz: number[];
  magnitudesDb: (number | null)[];
  /** From above -180 up to 180, counted from where the response's energy arrives. */
  phasesDeg: (number | null)[];
  /** Standard uncertainty (k = 1) of the magnitude from noise. */
  uncertaintiesDb: (number | null)[];
  /** Signal over noise in one bin. */
  snrDb: (number | null)[];
}

/** No 24-bit input reaches further; a finite figure survives JSON. */
const MOST_SNR_DB = 200;
/** Where the grid's steps are wider than any gate's resolution. */
const ANCHOR_HZ = 1000;

/** Engines differ in the last bits of a power; one grid must read the same in all of them, or nothing of it would be found again. */
function gridFigure(frequencyHz: number): number {
  return Number(frequencyHz.toPrecision(9));
}

/**
 * Frequencies `1000 * 10^(n/80)` of a band (1/24 octave), thinned below so that neighbours lie a resolution apart:
 * points that told the same bins twice would pass for two readings.
 */
export function transferFrequencies(band: FrequencyBand, resolutionHz: number): number[] {
  const all = curveFrequencies(Math.min(band.lowHz, ANCHOR_HZ), Math.max(band.highHz, ANCHOR_HZ));
  const kept: number[] = [];
  let above = Number.POSITIVE_INFINITY;
  for (const frequencyHz of all.reverse()) {
    if (frequencyHz < ANCHOR_HZ && above - frequencyHz < resolutionHz) continue;
    above = frequencyHz;
    if (frequencyHz >= band.lowHz && frequencyHz <= band.highHz) kept.push(gridFigure(frequencyHz));
  }
  return kept.reverse();
}

/**
 * Phase at one frequency, between the two bins beside it: a mean over the point's whole width would cancel where a
 * low-pass's own delay turns the phase several times within it.
 */
function phaseAt(spectrum: ResponseSpectrum, frequencyHz: number): number {
  const place = frequencyHz / spectrum.binHz;
  const below = Math.floor(place);
  const share = place - below;
  const between = (part: Float64Array) => (1 - share) * part[below]! + share * part[below + 1]!;
  return (Math.atan2(between(spectrum.im), between(spectrum.re)) * 180) / Math.PI;
}

/** The response of a spectrum, its phase left as it is. */
export function transferOf(spectrum: ResponseSpectrum, band: FrequencyBand): Transfer {
  const frequenciesHz = transferFrequencies(band, spectrum.resolutionHz);
  const points = frequenciesHz.map((hertz) => curvePoint(spectrum, hertz));
  return {
    frequenciesHz,
    magnitudesDb: points.map((point) => point.magnitudeDb),
    phasesDeg: points.map(({ magnitudeDb, frequencyHz }) =>
      magnitudeDb === null ? null : wrappedDeg(phaseAt(spectrum, frequencyHz)),
    ),
    uncertaintiesDb: points.map((point) => point.uncertaintyDb),
    snrDb: points.map(({ snrDb }) => (snrDb === null ? null : Math.min(MOST_SNR_DB, snrDb))),
  };
}

/** `degrees` brought to above -180 up to 180. */
function wrappedDeg(degrees: number): number {
  return degrees - 360 * Math.ceil((degrees - 180) / 360);
}

function noiseToSignal(snrDb: number): number {
  return 10 ** (-snrDb / 10);
}

/**
 * `measured` over `reference`, at the frequencies that both have: whatever chain lies ahead of both is gone, and so
 * is the skew of two clocks, which bent both alike. Noise adds as it does.
 */
export function dividedTransfer(measured: Transfer, reference: Transfer): Transfer {
  const divided: Transfer = {
    frequenciesHz: [],
    magnitudesDb: [],
    phasesDeg: [],
    uncertaintiesDb: [],
    snrDb: [],
  };
  const places = new Map(reference.frequenciesHz.map((hertz, index) => [hertz, index]));
  measured.frequenciesHz.forEach((hertz, index) => {
    const place = places.get(hertz);
    if (place === undefined) return;
    const both = measured.magnitudesDb[index] != null && reference.magnitudesDb[place] != null;
    const pick = (of: 'magnitudesDb' | 'phasesDeg' | 'uncertaintiesDb' | 'snrDb') =>
      [measured[of][index]!, reference[of][place]!] as const;
    const [upper, lower] = pick('magnitudesDb');
    const [turned, turn] = pick('phasesDeg');
    const [own, others] = pick('snrDb');
    divided.frequenciesHz.push(hertz);
    divided.magnitudesDb.push(both ? upper - lower : null);
    divided.phasesDeg.push(both ? wrappedDeg(turned - turn) : null);
    divided.uncertaintiesDb.push(both ? Math.hypot(...pick('uncertaintiesDb')) : null);
    divided.snrDb.push(both ? -10 * Math.log10(noiseToSignal(own) + noiseToSignal(others)) : null);
  });
  return divided;
}

/** For the fit of filters: a point that is lost in noise stays, without weight. */
export function transferPoints(transfer: Transfer): LevelPoints {
  const lost = Number.NEGATIVE_INFINITY;
  return {
    frequenciesHz: Float64Array.from(transfer.frequenciesHz),
    levelsDb: Float64Array.from(transfer.magnitudesDb, (level) => level ?? lost),
    sigmasDb: Float64Array.from(transfer.uncertaintiesDb, (sigma) => sigma ?? Number.POSITIVE_INFINITY),
    snrDb: Float64Array.from(transfer.snrDb, (snr) => snr ?? lost),
  };
}

/** The same response with a delay taken off its phase; a negative one is added. */
export function withoutDelay(transfer: Transfer, delaySeconds: number): Transfer {
  const phasesDeg = transfer.phasesDeg.map((phase, index) =>
    phase === null ? null : wrappedDeg(phase + 360 * delaySeconds * transfer.frequenciesHz[index]!),
  );
  return { ...transfer, phasesDeg };
}
