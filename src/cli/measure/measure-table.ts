/** What `measure` prints for a person. */
import { figure, formatTable } from '../table.ts';
import type { MeasuredChannel, MeasuredFile } from './measure-document.ts';

const HEADER = [
  'channel',
  'level dBFS',
  'V',
  'peak dBFS',
  'true peak dBTP',
  'crest dB',
  'DC',
  'tone Hz',
  'tone dBFS',
  'tone V',
  'THD %',
  'THD+N %',
  'noise dBFS',
  'clipping',
  'over dB',
];

/** Percentages reach from a ten-thousandth to tens: three digits that count. */
function percent(value: number | null): string {
  return value === null ? '-' : `${Number(value.toPrecision(3))}`;
}

function row(channel: MeasuredChannel): string[] {
  const { tone, clipping } = channel;
  const side = clipping.side === null || clipping.side === 'both' ? '' : `, ${clipping.side}`;
  return [
    `${channel.index}`,
    figure(channel.levelDbfs, 3),
    figure(channel.levelVolts, 4),
    figure(channel.samplePeakDbfs, 2),
    figure(channel.truePeakDbtp, 2),
    figure(channel.crestFactorDb, 2),
    figure(channel.dcFullScale, 6),
    figure(tone?.frequencyHz ?? null, 4),
    figure(tone?.levelDbfs ?? null, 3),
    figure(tone?.levelVolts ?? null, 4),
    percent(tone?.thdPercent ?? null),
    percent(tone?.thdPlusNoisePercent ?? null),
    figure(tone?.noiseDbfs ?? null, 1),
    `${clipping.verdict}${side}`,
    figure(clipping.overdriveDb, 2),
  ];
}

/** Columns of volts and of overdrive that hold nothing in any row are left out. */
function withoutEmptyColumns(header: readonly string[], rows: readonly string[][]): [string[], string[][]] {
  const kept = (_: string, column: number) => column === 0 || rows.some((cells) => cells[column] !== '-');
  return [header.filter(kept), rows.map((cells) => cells.filter(kept))];
}

function heading(file: MeasuredFile): string {
  const { fromSeconds, toSeconds } = file.measured;
  const part =
    fromSeconds === 0 && toSeconds === file.durationSeconds
      ? ''
      : `, measured from ${fromSeconds.toFixed(3)} to ${toSeconds.toFixed(3)} s`;
  return `${file.file}: ${file.sampleRateHz} Hz, ${file.durationSeconds.toFixed(3)} s${part}\n`;
}

function evidence(file: MeasuredFile): string {
  const lines = file.channels.flatMap((channel) =>
    channel.clipping.evidence.map((sentence) => `channel ${channel.index}: ${sentence}\n`),
  );
  return lines.join('');
}

export function measureTable(files: readonly MeasuredFile[]): string {
  const parts = files.map((file) => {
    const [header, rows] = withoutEmptyColumns(HEADER, file.channels.map(row));
    return heading(file) + formatTable(header, rows) + evidence(file);
  });
  return parts.join('\n');
}
