import { BLACKMAN_HARRIS, cosineWindow, FLAT_TOP, HANN } from './cosine-windows.ts';
import { kaiserWindow } from './kaiser.ts';

/** Which window, and for Kaiser's its `beta`: 0 is rectangular, 20 keeps side lobes below -155 dB. */
export type WindowShape =
  | { kind: 'hann' }
  | { kind: 'blackman-harris' }
  | { kind: 'flat-top' }
  | { kind: 'kaiser'; beta: number };

/** The periodic window of that shape, its peak 1, `length` samples long. */
export function windowOfShape(shape: WindowShape, length: number): Float64Array {
  switch (shape.kind) {
    case 'hann':
      return cosineWindow(HANN, length);
    case 'blackman-harris':
      return cosineWindow(BLACKMAN_HARRIS, length);
    case 'flat-top':
      return cosineWindow(FLAT_TOP, length);
    case 'kaiser':
      if (!(shape.beta >= 0 && shape.beta <= 100)) {
        throw new RangeError(
          `A Kaiser window's beta of ${shape.beta} is of no use: it must be from 0 to 100.`,
        );
      }
      return kaiserWindow(shape.beta, length);
  }
}
