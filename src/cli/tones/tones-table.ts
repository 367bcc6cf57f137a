/** What `tones` prints for a person. */
import type { Manifest, Track } from '../../job/manifest.ts';
import { formatTable } from '../table.ts';

const HEADER = ['file', 'kind', 'channels', 'tone', 'level', 'seconds'];

function hertz(frequencyHz: number): string {
  return `${Number(frequencyHz.toFixed(2))}`;
}

function tone(track: Track): string {
  if ('frequencyHz' in track) return hertz(track.frequencyHz);
  if ('lowHz' in track) return `${hertz(track.lowHz)} to ${hertz(track.highHz)}`;
  if ('startHz' in track) return `${hertz(track.startHz)} to ${hertz(track.endHz)}`;
  return '-';
}

function level(track: Track): string {
  if ('levelDbfs' in track) return `${track.levelDbfs}`;
  if ('levelsDbfs' in track) return track.levelsDbfs.join(', ');
  if ('peakDbfs' in track) return `${track.peakDbfs}`;
  return '-';
}

export function tonesTable(manifest: Manifest, folder: string, flac: boolean): string {
  const rows = manifest.tracks.map((track) => [
    track.file,
    track.kind,
    track.channels,
    tone(track),
    level(track),
    `${Number(track.durationSeconds.toFixed(3))}`,
  ]);
  const copies = flac ? ', each also as FLAC,' : '';
  const count = `${manifest.tracks.length} tracks${copies} and manifest.json in ${folder}`;
  return `${formatTable(HEADER, rows)}\n${count}, ${manifest.sampleRateHz} Hz, ${manifest.bits} bits\n`;
}
