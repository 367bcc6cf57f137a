/**
 * Fractional-octave bands of IEC 61260-1:2014, base ten: an octave is a ratio of 10^0.3 = 1.99526, and
 * 1000 Hz is the reference.
 */

/** Bands to an octave. */
export type BandsPerOctave = 1 | 3 | 6 | 12 | 24;

export interface FractionalOctaveBand {
  /** Counted from the reference: `x` of the standard's equations 2 and 3. */
  index: number;
  /** What it is called, such as 31.5. Not what it is computed with. */
  nominalHz: number;
  /** Exact. */
  centreHz: number;
  lowHz: number;
  highHz: number;
}

/** The octave ratio `G` of base ten. */
export const OCTAVE_RATIO = 10 ** 0.3;

/** R10 of the preferred numbers (ISO 3 and ISO 266), one decade. */
const PREFERRED = [1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8] as const;

/**
 * Equations 2 to 5: odd fractions have a band centred on 1000 Hz, even ones an edge there.
 * @param index any whole number
 */
export function fractionalOctaveBand(bandsPerOctave: BandsPerOctave, index: number): FractionalOctaveBand {
  const octaves = bandsPerOctave % 2 === 1 ? index / bandsPerOctave : (2 * index + 1) / (2 * bandsPerOctave);
  const half = 1 / (2 * bandsPerOctave);
  const centreHz = hertzAt(octaves);
  return {
    index,
    nominalHz:
      bandsPerOctave === 1 || bandsPerOctave === 3
        ? preferredNumber(index, bandsPerOctave)
        : roundedCentre(centreHz),
    centreHz,
    lowHz: hertzAt(octaves - half),
    highHz: hertzAt(octaves + half),
  };
}

/**
 * All bands whose exact centre lies between two frequencies, within half a band (so that asking for
 * 20 Hz to 20 kHz by their nominal names gives both ends).
 * @throws RangeError unless 0 < lowHz < highHz
 */
export function fractionalOctaveBands(
  bandsPerOctave: BandsPerOctave,
  lowHz: number,
  highHz: number,
): FractionalOctaveBand[] {
  if (!(lowHz > 0 && lowHz < highHz)) {
    throw new RangeError(`There are no bands from ${lowHz} to ${highHz} Hz.`);
  }
  const offset = bandsPerOctave % 2 === 1 ? 0 : 0.5;
  const place = (hz: number) => (bandsPerOctave * Math.log10(hz / 1000)) / 0.3 - offset;
  const bands: FractionalOctaveBand[] = [];
  for (let index = Math.round(place(lowHz)); index <= Math.round(place(highHz)); index += 1) {
    bands.push(fractionalOctaveBand(bandsPerOctave, index));
  }
  return bands;
}

/** One power of ten, so that neighbours' edges are the same bits and decades come out whole. */
function hertzAt(octavesFromReference: number): number {
  return 10 ** (3 + 0.3 * octavesFromReference);
}

function preferredNumber(index: number, bandsPerOctave: 1 | 3): number {
  const thirds = bandsPerOctave === 1 ? 3 * index : index;
  const decade = Math.floor(thirds / 10);
  const number = PREFERRED[thirds - 10 * decade]! * 10 ** (decade + 3);
  return Number(number.toPrecision(3));
}

/** Three digits where the first is 1 to 4, else two: Annex E, as remembered; not confirmed in its text. */
function roundedCentre(centreHz: number): number {
  const first = centreHz / 10 ** Math.floor(Math.log10(centreHz));
  return Number(centreHz.toPrecision(first < 5 ? 3 : 2));
}
