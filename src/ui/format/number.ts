/** Numbers look the same on screen and in the report. */
export { decimalsFor, fixed, NOTHING, signed, significant } from '../../job/format/number.ts';
