/**
 * Where the coils and wires of a network stand on paper. Made from the very
 * tree that the net load is computed from, so drawing and figure cannot
 * disagree: series parts follow each other, parallel parts stand between two
 * bars.
 */
import type { Network } from '../../plan/load/network.ts';

export interface Point {
  x: number;
  y: number;
}

export interface Wire {
  from: Point;
  to: Point;
}

export interface Box {
  x: number;
  y: number;
  width: number;
  height: number;
}

/** A coil is wound between two points, inside a cell that nothing else enters. */
export interface DrawnCoil extends Wire {
  ohms: number;
  cell: Box;
}

export interface CircuitLayout {
  width: number;
  height: number;
  /** Which way the current runs on paper. */
  runs: 'across' | 'down';
  plus: Point;
  minus: Point;
  wires: Wire[];
  /** In the order in which the network writes them. */
  coils: DrawnCoil[];
}

/** Widest that still reads well beside words on a phone. */
const WIDE = 220;
const LEAD = 8;
/** Along the current, and across it: room for the winding and its ohms. */
const CELLS = { across: { length: 56, breadth: 42 }, down: { length: 46, breadth: 58 } } as const;

/** A part drawn along u, its current entering at (0, axis) and leaving at (length, axis). */
interface Block {
  length: number;
  breadth: number;
  axis: number;
  wires: Wire[];
  coils: DrawnCoil[];
}

type Cell = (typeof CELLS)['across' | 'down'];

function wire(x1: number, y1: number, x2: number, y2: number): Wire {
  return { from: { x: x1, y: y1 }, to: { x: x2, y: y2 } };
}

function movedPoint({ x, y }: Point, dx: number, dy: number): Point {
  return { x: x + dx, y: y + dy };
}

function moved<T extends Wire>(one: T, dx: number, dy: number): T {
  return { ...one, from: movedPoint(one.from, dx, dy), to: movedPoint(one.to, dx, dy) };
}

function movedParts({ wires, coils }: Block, dx: number, dy: number): Pick<Block, 'wires' | 'coils'> {
  return {
    wires: wires.map((one) => moved(one, dx, dy)),
    coils: coils.map((one) => ({
      ...moved(one, dx, dy),
      cell: { ...one.cell, x: one.cell.x + dx, y: one.cell.y + dy },
    })),
  };
}

function coilBlock(ohms: number, { length, breadth }: Cell): Block {
  // The ohms are written on the near side of the winding, so it lies off the middle.
  const axis = breadth - 14;
  return {
    length,
    breadth,
    axis,
    wires: [wire(0, axis, LEAD, axis), wire(length - LEAD, axis, length, axis)],
    coils: [
      {
        ...wire(LEAD, axis, length - LEAD, axis),
        ohms,
        cell: { x: 0, y: 0, width: length, height: breadth },
      },
    ],
  };
}

function seriesBlock(parts: readonly Block[]): Block {
  const axis = Math.max(...parts.map((part) => part.axis));
  const under = Math.max(...parts.map((part) => part.breadth - part.axis));
  let length = 0;
  const placed = parts.map((part) => {
    const at = length;
    length += part.length;
    return movedParts(part, at, axis - part.axis);
  });
  return {
    length,
    breadth: axis + under,
    axis,
    wires: placed.flatMap((part) => part.wires),
    coils: placed.flatMap((part) => part.coils),
  };
}

function parallelBlock(parts: readonly Block[]): Block {
  const widest = Math.max(...parts.map((part) => part.length));
  const length = widest + 4 * LEAD;
  const bars = { first: LEAD, last: length - LEAD };
  let breadth = 0;
  const axes: number[] = [];
  const placed = parts.map((part) => {
    const at = (length - part.length) / 2;
    const axis = breadth + part.axis;
    const inside = movedParts(part, at, breadth);
    breadth += part.breadth;
    axes.push(axis);
    const leads = [wire(bars.first, axis, at, axis), wire(at + part.length, axis, bars.last, axis)];
    return { wires: [...leads, ...inside.wires], coils: inside.coils };
  });
  const [top, bottom] = [Math.min(...axes), Math.max(...axes)];
  const axis = (top + bottom) / 2;
  return {
    length,
    breadth,
    axis,
    wires: [
      wire(0, axis, bars.first, axis),
      wire(bars.first, top, bars.first, bottom),
      ...placed.flatMap((part) => part.wires),
      wire(bars.last, top, bars.last, bottom),
      wire(bars.last, axis, length, axis),
    ],
    coils: placed.flatMap((part) => part.coils),
  };
}

function block(network: Network, cell: Cell): Block {
  if (network.kind === 'coil') return coilBlock(network.ohms, cell);
  const parts = network.parts.map((part) => block(part, cell));
  return network.kind === 'series' ? seriesBlock(parts) : parallelBlock(parts);
}

function turnedPoint({ x, y }: Point): Point {
  return { x: y, y: x };
}

function laid(network: Network, runs: 'across' | 'down'): CircuitLayout {
  const { length, breadth, axis, wires, coils } = block(network, CELLS[runs]);
  const across: CircuitLayout = {
    width: length,
    height: breadth,
    runs,
    plus: { x: 0, y: axis },
    minus: { x: length, y: axis },
    wires,
    coils,
  };
  if (runs === 'across') return across;
  const turned = <T extends Wire>(one: T): T => ({
    ...one,
    from: turnedPoint(one.from),
    to: turnedPoint(one.to),
  });
  return {
    width: breadth,
    height: length,
    runs,
    plus: turnedPoint(across.plus),
    minus: turnedPoint(across.minus),
    wires: wires.map(turned),
    coils: coils.map((coil) => ({
      ...turned(coil),
      cell: { x: coil.cell.y, y: coil.cell.x, width: coil.cell.height, height: coil.cell.width },
    })),
  };
}

/**
 * Lays a network out from plus to minus: from left to right, or from top to
 * bottom where that is too wide to read and narrower.
 */
export function circuitLayout(network: Network): CircuitLayout {
  const across = laid(network, 'across');
  if (across.width <= WIDE) return across;
  const down = laid(network, 'down');
  return down.width < across.width ? down : across;
}

/** Outline of each driver: the cells of its coils together. */
export function driverBoxes({ coils }: Pick<CircuitLayout, 'coils'>, coilsEach: number): Box[] {
  return Array.from({ length: coils.length / coilsEach }, (_, driver) => {
    const cells = coils.slice(driver * coilsEach, (driver + 1) * coilsEach).map((coil) => coil.cell);
    const x = Math.min(...cells.map((cell) => cell.x));
    const y = Math.min(...cells.map((cell) => cell.y));
    return {
      x,
      y,
      width: Math.max(...cells.map((cell) => cell.x + cell.width)) - x,
      height: Math.max(...cells.map((cell) => cell.y + cell.height)) - y,
    };
  });
}
