/** Coils and wires as paths of SVG, for the screen and for paper. */
import type { DrawnCoil, Wire } from './circuit-layout.ts';

const TURNS = 4;

/** A winding between two points: half turns on one side of the wire. */
export function windingPath({ from, to }: Wire): string {
  const isAcross = from.y === to.y;
  const length = isAcross ? to.x - from.x : to.y - from.y;
  const turn = length / TURNS;
  const arc = isAcross
    ? `a${turn / 2} ${turn / 2} 0 0 1 ${turn} 0`
    : `a${turn / 2} ${turn / 2} 0 0 0 0 ${turn}`;
  return `M${from.x} ${from.y}${arc.repeat(TURNS)}`;
}

export function wiresPath(list: readonly Wire[]): string {
  return list.map(({ from, to }) => `M${from.x} ${from.y}L${to.x} ${to.y}`).join('');
}

/** Where a coil's ohms are written: clear of the winding, inside its cell. */
export function ohmsPlace({ from, to }: DrawnCoil): { x: number; y: number; textAnchor: 'middle' | 'end' } {
  if (from.y === to.y) return { x: (from.x + to.x) / 2, y: from.y - 11, textAnchor: 'middle' };
  return { x: from.x - 8, y: (from.y + to.y) / 2 + 5, textAnchor: 'end' };
}
