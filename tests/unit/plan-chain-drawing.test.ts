/** The chain on paper: every part once, inside the paper, on its own ground, fed from the side that feeds it. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Job, JobChannel } from '../../src/job/document.ts';
import type { Box } from '../../src/job/drawing/circuit-layout.ts';
import { wiringsFor } from '../../src/job/load-words.ts';
import { JOB_PRESETS, newJob } from '../../src/job/new-job.ts';
import { chainSentences } from '../../src/ui/stations/plan/chain-sentences.ts';
import { chainLayout } from '../../src/ui/stations/plan/drawing/chain-layout.ts';

const drivers = fc
  .record({
    count: fc.integer({ min: 1, max: 8 }),
    coils: fc.constantFrom(1 as const, 2 as const),
    pick: fc.nat(),
  })
  .map(({ count, coils, pick }): JobChannel['drivers'] => ({
    count,
    coilsEach: coils,
    coilOhms: 4,
    coilWiring: coils === 1 ? 'single' : pick % 2 === 0 ? 'series' : 'parallel',
    driverWiring: wiringsFor(count)[pick % wiringsFor(count).length]!,
    continuousWattsEach: 50,
  }));

/** Any layout, its channels hung with any drivers, fed and summed anyhow. */
const anyJob = fc
  .record({
    preset: fc.constantFrom(...JOB_PRESETS.map((one) => one.preset)),
    pickup: fc.constantFrom('speaker-level' as const, 'line-level' as const),
    withConverter: fc.boolean(),
    each: fc.array(
      fc.record({
        drivers,
        fedBy: fc.constantFrom('left' as const, 'right' as const, 'both' as const),
        summedInputs: fc.integer({ min: 1, max: 4 }),
        bridged: fc.boolean(),
      }),
      { minLength: 6, maxLength: 6 },
    ),
  })
  .map(({ preset, pickup, withConverter, each }): Job => {
    const job = newJob({ preset, id: 'any', at: '2026-03-14T09:00:00.000Z' });
    return {
      ...job,
      source: { ...job.source, pickup },
      converter: withConverter ? job.converter : null,
      channels: job.channels.map((channel, index) => ({ ...channel, ...each[index] })),
    };
  });

const bottom = ({ y, height }: Box) => y + height;
const right = ({ x, width }: Box) => x + width;

describe.each([296, 420])('the chain on paper %i wide', (width) => {
  it('draws every channel once, in its amplifier, one below the other, inside the paper', () => {
    fc.assert(
      fc.property(anyJob, (job) => {
        const layout = chainLayout(job, width, chainSentences(job));
        const placed = layout.amplifiers.flatMap((one) => one.channels);
        expect(placed.map(({ channel }) => channel.id).sort()).toEqual(
          job.channels.map(({ id }) => id).sort(),
        );
        const column = [layout.source, layout.converter, ...layout.amplifiers.map((one) => one.box)];
        column.slice(1).forEach((box, index) => {
          expect(box.y).toBeGreaterThan(bottom(column[index]!));
        });
        for (const box of column) expect(right(box)).toBeLessThanOrEqual(width);
        expect(bottom(column.at(-1)!)).toBeLessThanOrEqual(layout.height);
        for (const { box, channels } of layout.amplifiers) {
          channels.forEach((channel, index) => {
            expect(channel.box.y).toBeGreaterThanOrEqual(
              index === 0 ? box.y : bottom(channels[index - 1]!.box),
            );
            expect(bottom(channel.box)).toBeLessThanOrEqual(bottom(box));
          });
        }
      }),
    );
  });

  it('keeps each channel’s coils on its own ground, clear of its figures and its lines', () => {
    fc.assert(
      fc.property(anyJob, (job) => {
        const layout = chainLayout(job, width, chainSentences(job));
        for (const { box, circuit, lines } of layout.amplifiers.flatMap((one) => one.channels)) {
          expect(circuit).not.toBeNull();
          const { layout: drawn, x, y, scale } = circuit!;
          // The name stands on the first 24, each line takes 17, the figures at the right 70.
          expect(y).toBeGreaterThanOrEqual(box.y + 24);
          expect(y + drawn.height * scale).toBeLessThanOrEqual(bottom(box) - 17 * lines.length);
          expect(x + drawn.width * scale).toBeLessThanOrEqual(right(box) - 70);
        }
      }),
    );
  });

  it('runs each side’s wire down to the last channel that it feeds, and no further', () => {
    fc.assert(
      fc.property(anyJob, (job) => {
        const { trunk, amplifiers } = chainLayout(job, width, chainSentences(job));
        const channels = amplifiers.flatMap((one) => one.channels);
        for (const side of ['left', 'right'] as const) {
          const fed = channels.filter(({ channel }) => channel.fedBy === side || channel.fedBy === 'both');
          const end = side === 'left' ? trunk.leftBottom : trunk.rightBottom;
          const last = fed.at(-1);
          if (last === undefined) expect(end).toBeLessThan(amplifiers[0]!.box.y);
          else expect(Math.abs(end - last.wireY)).toBeLessThanOrEqual(last.channel.fedBy === 'both' ? 13 : 0);
        }
      }),
    );
  });
});
