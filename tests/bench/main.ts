/** Runs every bench one after the other in one process, so that figures and ratios belong together. */
import { cpus, loadavg } from 'node:os';
import * as analyser from './analyser.ts';
import * as bundle from './bundle.ts';
import * as check from './check.ts';
import * as liveHeap from './live-heap.ts';
import * as measure from './measure.ts';
import * as rig from './rig.ts';
import * as spectraAndLevels from './spectra-and-levels.ts';
import * as worklet from './worklet.ts';

export interface Bench {
  name: string;
  /** `null` where something that the figure needs is not there. */
  figures: Record<string, number | null>;
}

export interface BenchReport {
  date: string;
  /** `load`: how many programs wanted a core in the minute before the start, as the system counts them. */
  machine: { node: string; processor: string; cores: number; load: number };
  benches: Bench[];
}

/**
 * @param root of the project, built
 * @param large whether 4 GiB are written to the temporary folder and measured too, and a hundred recordings checked
 */
export async function runBench(root: string, large: boolean): Promise<BenchReport> {
  const load = loadavg()[0] ?? 0;
  // First, while this process is small and quiet: whole commands are timed there.
  const benches: Bench[] = [...(await measure.run(root, large)), await check.run(root, large)];
  for (const bench of [analyser, spectraAndLevels, liveHeap, worklet, rig, bundle])
    benches.push(await bench.run(root));
  return {
    date: new Date().toISOString(),
    machine: {
      node: process.version,
      processor: cpus()[0]?.model ?? 'unknown',
      cores: cpus().length,
      load,
    },
    benches,
  };
}

/** Four significant digits: more would be noise. */
function figure(value: number | null): string {
  if (value === null) return '- (not measured: what it needs is not installed)';
  return Number(value.toPrecision(4)).toString();
}

export function table(report: BenchReport): string {
  const lines = [
    `${report.date}  ${report.machine.processor}, ${report.machine.cores} cores, load ${figure(report.machine.load)} before the start, ${report.machine.node}`,
  ];
  for (const { name, figures } of report.benches) {
    lines.push('', name);
    const width = Math.max(...Object.keys(figures).map((key) => key.length));
    for (const [key, value] of Object.entries(figures))
      lines.push(`  ${key.padEnd(width)}  ${figure(value)}`);
  }
  return lines.join('\n');
}
