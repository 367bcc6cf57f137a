/** A station's course as two files that replay: its log, and a WAV of its takes. */
import { downloadZip } from 'client-zip';
import { floatWav } from '../../audio/wav/float-wav.ts';
import type { RecordKind } from '../../job/records.ts';
import { SESSION_FORMAT, SESSION_VERSION, type SessionLog } from '../../job/session-log.ts';
import type { Course } from './station-session.ts';

/** @throws RangeError where the takes came from inputs that differ in rate or channels: one WAV cannot hold them */
export async function sessionRecording(kind: RecordKind, course: Course<unknown>): Promise<Blob> {
  const [first] = course.takes;
  if (first === undefined) throw new RangeError('Nothing was recorded at this station yet.');
  const { sampleRateHz } = first;
  const channelCount = first.channels.length;
  const odd = course.takes.find(
    (take) => take.sampleRateHz !== sampleRateHz || take.channels.length !== channelCount,
  );
  if (odd !== undefined) {
    throw new RangeError('The input was changed on the way; begin the station anew to save its recording.');
  }
  const channels = first.channels.map((_, index) => joined(course.takes.map((one) => one.channels[index]!)));
  const file = `${kind}.wav`;
  const log: SessionLog = {
    format: SESSION_FORMAT,
    version: SESSION_VERSION,
    kind,
    sampleRateHz,
    file,
    entries: course.entries,
  };
  return downloadZip([
    { name: `${kind}.session.json`, input: `${JSON.stringify(log, null, 2)}\n` },
    { name: file, input: floatWav(channels, sampleRateHz) },
  ]).blob();
}

function joined(pieces: readonly Float32Array[]): Float32Array {
  const whole = new Float32Array(pieces.reduce((sum, piece) => sum + piece.length, 0));
  let place = 0;
  for (const piece of pieces) {
    whole.set(piece, place);
    place += piece.length;
  }
  return whole;
}
