/** The drawn circuit, read back off the paper as an eye would, is the network that was computed. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Box,
  type CircuitLayout,
  circuitLayout,
  driverBoxes,
  type Point,
  type Wire,
} from '../../src/job/drawing/circuit-layout.ts';
import { wiringsFor } from '../../src/job/load-words.ts';
import type { DriverGroup } from '../../src/plan/chain.ts';
import { driverGroupLoadOhms, driverGroupNetwork } from '../../src/plan/load/driver-group.ts';
import { type Network, netLoadOhms } from '../../src/plan/load/network.ts';

const coil = fc.double({ min: 0.5, max: 32, noNaN: true }).map((ohms): Network => ({ kind: 'coil', ohms }));
const { network } = fc.letrec<{ network: Network }>((tie) => ({
  network: fc.oneof(
    { depthSize: 'small' },
    coil,
    fc.record({
      kind: fc.constantFrom('series' as const, 'parallel' as const),
      parts: fc.array(tie('network'), { minLength: 1, maxLength: 4 }),
    }),
  ),
}));

const group = fc
  .record({
    count: fc.integer({ min: 1, max: 8 }),
    coilsEach: fc.constantFrom(1 as const, 2 as const),
    coilOhms: fc.constantFrom(1, 2, 4, 8),
    pair: fc.constantFrom('series' as const, 'parallel' as const),
    pick: fc.nat(),
  })
  .map(({ count, coilsEach, coilOhms, pair, pick }): DriverGroup => {
    const wirings = wiringsFor(count);
    return {
      count,
      coilsEach,
      coilOhms,
      coilWiring: coilsEach === 1 ? 'single' : pair,
      driverWiring: wirings[pick % wirings.length]!,
      continuousWattsEach: 100,
    };
  });

function lies({ x, y }: Point, { from, to }: Wire): boolean {
  const between = (value: number, a: number, b: number) =>
    value >= Math.min(a, b) - 1e-9 && value <= Math.max(a, b) + 1e-9;
  return between(x, from.x, to.x) && between(y, from.y, to.y);
}

/** Wires are joined where an end of one lies on the other; lines that merely cross are not. */
function nodeFinder(wires: readonly Wire[]): (point: Point) => number {
  const root = wires.map((_, index) => index);
  const find = (index: number): number => (root[index] === index ? index : find(root[index]!));
  wires.forEach((a, i) => {
    wires.forEach((b, j) => {
      const joined = lies(a.from, b) || lies(a.to, b);
      if (j !== i && joined) root[find(i)] = find(j);
    });
  });
  return (point) => {
    const on = wires.findIndex((wire) => lies(point, wire));
    if (on < 0) throw new Error(`Nothing is drawn at ${point.x}, ${point.y}.`);
    return find(on);
  };
}

/** Resistance between the terminals by nodal analysis of what is drawn (Kirchhoff): G v = i, 1 A in at plus. */
function drawnOhms({ wires, coils, plus, minus }: CircuitLayout): number {
  const nodeAt = nodeFinder(wires);
  const ends = coils.map(({ from, to, ohms }) => ({ a: nodeAt(from), b: nodeAt(to), ohms }));
  const ground = nodeAt(minus);
  const nodes = [...new Set([nodeAt(plus), ...ends.flatMap(({ a, b }) => [a, b])])].filter(
    (node) => node !== ground,
  );
  const rows = nodes.map((node) => [...nodes.map(() => 0), node === nodeAt(plus) ? 1 : 0]);
  for (const { a, b, ohms } of ends) {
    for (const [own, other] of [[a, b] as const, [b, a] as const]) {
      const i = nodes.indexOf(own);
      if (i < 0) continue;
      rows[i]![i]! += 1 / ohms;
      const j = nodes.indexOf(other);
      if (j >= 0) rows[i]![j]! -= 1 / ohms;
    }
  }
  return solved(rows)[nodes.indexOf(nodeAt(plus))]!;
}

function solved(rows: number[][]): number[] {
  const size = rows.length;
  for (let column = 0; column < size; column++) {
    const pivot = rows
      .slice(column)
      .reduce((best, row) => (Math.abs(row[column]!) > Math.abs(best[column]!) ? row : best));
    rows.splice(rows.indexOf(pivot), 1);
    rows.splice(column, 0, pivot);
    for (const row of rows) {
      if (row === pivot) continue;
      const share = row[column]! / pivot[column]!;
      for (let k = column; k <= size; k++) row[k]! -= share * pivot[k]!;
    }
  }
  return rows.map((row, index) => row[size]! / row[index]!);
}

function overlap(a: Box, b: Box): boolean {
  const apart = (p: number, pSize: number, q: number, qSize: number) =>
    p + pSize <= q + 1e-9 || q + qSize <= p + 1e-9;
  return !apart(a.x, a.width, b.x, b.width) && !apart(a.y, a.height, b.y, b.height);
}

describe('the drawn circuit', () => {
  it('has the net load of its network, whatever the network', () => {
    fc.assert(
      fc.property(network, (any) => {
        // Elimination over some dozen nodes: rounding only.
        expect(Math.abs(drawnOhms(circuitLayout(any)) / netLoadOhms(any) - 1)).toBeLessThan(1e-9);
      }),
    );
  });

  it('has the net load that the plan computes for every group of drivers', () => {
    fc.assert(
      fc.property(group, (drivers) => {
        const layout = circuitLayout(driverGroupNetwork(drivers));
        expect(layout.coils).toHaveLength(drivers.count * drivers.coilsEach);
        expect(Math.abs(drawnOhms(layout) / driverGroupLoadOhms(drivers) - 1)).toBeLessThan(1e-9);
      }),
      { numRuns: 300 },
    );
  });

  it('draws two 4 ohm coils in parallel as 2 ohm, in series as 8 ohm (common practice)', () => {
    const two = (kind: 'series' | 'parallel') =>
      drawnOhms(circuitLayout({ kind, parts: [4, 4].map((ohms) => ({ kind: 'coil', ohms })) }));
    expect(two('parallel')).toBeCloseTo(2, 12);
    expect(two('series')).toBeCloseTo(8, 12);
  });

  it('lets no coil and no driver stand on another, inside the paper', () => {
    fc.assert(
      fc.property(group, (drivers) => {
        const layout = circuitLayout(driverGroupNetwork(drivers));
        for (const boxes of [layout.coils.map(({ cell }) => cell), driverBoxes(layout, drivers.coilsEach)]) {
          boxes.forEach((box, index) => {
            expect(boxes.slice(index + 1).filter((other) => overlap(box, other))).toEqual([]);
            expect(box.x >= 0 && box.y >= 0).toBe(true);
            expect(box.x + box.width <= layout.width && box.y + box.height <= layout.height).toBe(true);
          });
        }
      }),
      { numRuns: 300 },
    );
  });

  it('stays narrow enough for a phone with eight drivers of two coils', () => {
    for (const driverWiring of ['series', 'parallel'] as const) {
      for (const coilWiring of ['series', 'parallel'] as const) {
        const drivers: DriverGroup = {
          count: 8,
          coilsEach: 2,
          coilOhms: 4,
          coilWiring,
          driverWiring,
          continuousWattsEach: 1,
        };
        // 296 px is what a sheet at 360 px leaves.
        expect(circuitLayout(driverGroupNetwork(drivers)).width).toBeLessThanOrEqual(296);
      }
    }
  });
});
