/** Renders a job's tone set, track by track, into one zip file. */
import { downloadZip } from 'client-zip';
import { setWav } from '../../audio/wav/set-wav.ts';
import type { Job } from '../../job/document.ts';
import { toneSet } from '../../job/tone-set.ts';
import { TONE_SET_FORM } from './level-track.ts';

/**
 * @param onTrack told before each track, so that the screen can say how far it is
 * @throws RangeError with one sentence for a tone that cannot be rendered
 */
export async function toneSetZip(job: Job, onTrack: (done: number, of: number) => void): Promise<Blob> {
  const manifest = toneSet(job, TONE_SET_FORM);
  const { sampleRateHz, bits, tracks } = manifest;
  const files: { name: string; input: Blob }[] = [
    {
      name: 'manifest.json',
      input: new Blob([`${JSON.stringify(manifest, null, 2)}\n`], { type: 'application/json' }),
    },
  ];
  for (const [index, track] of tracks.entries()) {
    onTrack(index, tracks.length);
    // Lets the screen draw between two tracks.
    await new Promise((resolve) => setTimeout(resolve, 0));
    files.push({
      name: track.file,
      input: new Blob([...setWav(track, { sampleRateHz, bits, ditherSeed: index + 1 })]),
    });
  }
  const zip = downloadZip(files.map(({ name, input }) => ({ name, input: new File([input], name) })));
  return zip.blob();
}
