/** Runs every bench one after the other in one process, so that figures and ratios belong together. */
import { cpus } from 'node:os';
import * as analyser from './analyser.ts';
import * as bundle from './bundle.ts';
import * as measure from './measure.ts';
import * as rig from './rig.ts';
import * as worklet from './worklet.ts';

export interface BenchReport {
  date: string;
  machine: { node: string; processor: string; cores: number };
  benches: { name: string; figures: Record<string, number> }[];
}

export async function runBench(root: string): Promise<BenchReport> {
  const benches = [];
  for (const bench of [measure, analyser, worklet, rig, bundle]) benches.push(await bench.run(root));
  return {
    date: new Date().toISOString(),
    machine: {
      node: process.version,
      processor: cpus()[0]?.model ?? 'unknown',
      cores: cpus().length,
    },
    benches,
  };
}

/** Four significant digits: more would be noise. */
function figure(value: number): string {
  return Number(value.toPrecision(4)).toString();
}

export function table(report: BenchReport): string {
  const lines = [
    `${report.date}  ${report.machine.processor}, ${report.machine.cores} cores, ${report.machine.node}`,
  ];
  for (const { name, figures } of report.benches) {
    lines.push('', name);
    const width = Math.max(...Object.keys(figures).map((key) => key.length));
    for (const [key, value] of Object.entries(figures))
      lines.push(`  ${key.padEnd(width)}  ${figure(value)}`);
  }
  return lines.join('\n');
}
