import { sweepWindows } from '../../dsp/response/sweep-windows.ts';
import { readArguments } from '../arguments.ts';
import type { Command } from '../command.ts';
import { Progress } from '../progress.ts';
import { UsageError } from '../usage-error.ts';
import { RESPONSE_HELP } from './help.ts';
import { manifestSweeps, type NamedSweep } from './manifest-file.ts';
import {
  deconvolverFor,
  type MeasuredResponse,
  measureResponses,
  type SearchedSweep,
  searchSweeps,
} from './measure-response.ts';
import { Recording } from './recording.ts';
import { type ResponseDocument, respondedChannel, silentChannel } from './response-document.ts';
import { responseTable } from './response-table.ts';

const OPTIONS = {
  manifest: { type: 'string' },
  reference: { type: 'string' },
  track: { type: 'string' },
  json: { type: 'boolean' },
} as const;

interface ResponseRequest {
  file: string;
  manifestPath: string;
  reference: string | null;
  track: string | null;
  json: boolean;
}

function readRequest(args: string[]): ResponseRequest {
  const { values, positionals } = readArguments('response', args, OPTIONS);
  const [file, ...more] = positionals;
  if (file === undefined) {
    throw new UsageError(
      'No file was named; "kneepoint response FILE.wav --manifest FILE.json" needs a recording.',
    );
  }
  if (more.length > 0) {
    throw new UsageError(
      `"${more[0]}" is one file too many; "kneepoint response" takes one recording at a time.`,
    );
  }
  if (values.manifest === undefined || values.manifest === '') {
    throw new UsageError(
      'No manifest was named; --manifest FILE.json says which sweep was played (kneepoint tones writes one).',
    );
  }
  return {
    file,
    manifestPath: values.manifest,
    reference: values.reference ?? null,
    track: values.track ?? null,
    json: values.json ?? false,
  };
}

function checkPair(recording: Recording, reference: Recording): void {
  const { sampleRateHz, channelCount } = recording.info;
  if (reference.info.sampleRateHz !== sampleRateHz) {
    throw new UsageError(
      `${reference.path}: a reference must have the recording's sample rate, ${sampleRateHz} Hz, not ${reference.info.sampleRateHz} Hz.`,
    );
  }
  if (reference.info.channelCount !== 1 && reference.info.channelCount !== channelCount) {
    throw new UsageError(
      `${reference.path}: a reference must have one channel, or the recording's ${channelCount}, not ${reference.info.channelCount}.`,
    );
  }
}

/** How many windows will be looked through. */
function windowCount(recording: Recording, sweeps: readonly NamedSweep[]): number {
  const windows = sweeps.map(
    (sweep) => sweepWindows(deconvolverFor(recording, sweep), recording.info.frames).length,
  );
  return recording.info.channelCount * windows.reduce((sum, count) => sum + count, 0);
}

interface Answer {
  searched: SearchedSweep;
  measured: (MeasuredResponse | null)[];
}

async function answer(
  recording: Recording,
  reference: Recording | null,
  sweeps: readonly NamedSweep[],
): Promise<Answer> {
  const progress = new Progress('looking for the sweep', windowCount(recording, sweeps));
  try {
    const searched = await searchSweeps(recording, sweeps, () => progress.add(1));
    if (reference === null) return { searched, measured: await measureResponses(recording, searched, null) };
    const other = await searchSweeps(reference, [searched.sweep], () => undefined);
    const divisor = { recording: reference, searched: other };
    return { searched, measured: await measureResponses(recording, searched, divisor) };
  } finally {
    progress.end();
  }
}

function documentOf(
  request: ResponseRequest,
  recording: Recording,
  { searched, measured }: Answer,
): ResponseDocument {
  const { startHz, endHz, levelDbfs, durationSeconds } = searched.sweep.spec;
  return {
    file: request.file,
    reference: request.reference,
    sampleRateHz: recording.info.sampleRateHz,
    sweep: { tracks: searched.sweep.ids, startHz, endHz, levelDbfs, durationSeconds },
    channels: measured.map((channel, index) =>
      channel === null
        ? silentChannel(index)
        : respondedChannel(index, channel.startSeconds, channel.response),
    ),
  };
}

async function run(args: string[]): Promise<number> {
  const request = readRequest(args);
  const sweeps = await manifestSweeps(request.manifestPath, request.track);
  const recording = await Recording.open(request.file);
  let reference: Recording | null = null;
  try {
    if (request.reference !== null) {
      reference = await Recording.open(request.reference);
      checkPair(recording, reference);
    }
    const answered = await answer(recording, reference, sweeps);
    const document = documentOf(request, recording, answered);
    const text = request.json
      ? `${JSON.stringify(document, null, 2)}\n`
      : responseTable(
          document,
          answered.measured.map((channel) => channel?.response ?? null),
        );
    process.stdout.write(text);
  } finally {
    await reference?.close();
    await recording.close();
  }
  return 0;
}

export const responseCommand: Command = {
  name: 'response',
  summary: 'magnitude response from a recorded sweep, with the filters in it',
  help: RESPONSE_HELP,
  run,
};
