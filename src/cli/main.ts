/** What `bin/kneepoint.js` runs: finds the command, runs it, turns every failure into one line and a status. */
import { inspect } from 'node:util';
import { checkCommand } from './check/check-command.ts';
import type { Command } from './command.ts';
import { measureCommand } from './measure/measure-command.ts';
import { planCommand } from './plan-command.ts';
import { replayCommand } from './replay/replay-command.ts';
import { reportCommand } from './report/report-command.ts';
import { responseCommand } from './response/response-command.ts';
import { tonesCommand } from './tones/tones-command.ts';
import { UsageError } from './usage-error.ts';

const COMMANDS: readonly Command[] = [
  planCommand,
  tonesCommand,
  measureCommand,
  responseCommand,
  checkCommand,
  replayCommand,
  reportCommand,
];

const DONE = 0;
const UNUSABLE = 2;

function overview(): string {
  const widest = Math.max(...COMMANDS.map((command) => command.name.length));
  const lines = COMMANDS.map((command) => `  ${command.name.padEnd(widest)}  ${command.summary}`);
  return [
    'Sets gains, matches levels and proves the result in a vehicle that keeps its factory radio.',
    '',
    'Usage: kneepoint COMMAND ...',
    '',
    ...lines,
    '',
    '"kneepoint COMMAND --help" says what a command takes and what it prints.',
    'Exit status: 0 done, and passed where a judgement was asked for; 1 done, and something',
    'is out of tolerance; 2 the input or the arguments are unusable.',
    '',
  ].join('\n');
}

function asksForHelp(args: readonly string[]): boolean {
  const optionsEnd = args.indexOf('--');
  const options = optionsEnd === -1 ? args : args.slice(0, optionsEnd);
  return options.includes('--help') || options.includes('-h');
}

async function dispatch(args: string[]): Promise<number> {
  const [name, ...rest] = args;
  const command = COMMANDS.find((candidate) => candidate.name === name);
  if (command === undefined) {
    if (asksForHelp(args)) {
      process.stdout.write(overview());
      return DONE;
    }
    const known = COMMANDS.map((candidate) => candidate.name).join(', ');
    const what = name === undefined ? 'No command was given' : `There is no command "${name}"`;
    throw new UsageError(`${what}; it must be one of ${known}, and "kneepoint --help" says what each does.`);
  }
  if (asksForHelp(rest)) {
    process.stdout.write(`${command.help.trim()}\n`);
    return DONE;
  }
  return await command.run(rest);
}

function oneLine(text: string): string {
  return text.replace(/\s+/g, ' ').trim();
}

/** Anything but a `UsageError` is a fault of the program; the person still gets one line, not a stack. */
function explain(error: unknown): string {
  if (error instanceof UsageError) return oneLine(error.message);
  const what = error instanceof Error ? `${error.name}: ${error.message}` : String(error);
  return `This is a fault of the program, not of your input (${oneLine(what)}); please report it with the command you gave, KNEEPOINT_DEBUG=1 shows where it happened.`;
}

/** A reader that closes early (`| head`) has what it wants: that is no failure. */
function allowEarlyClose(): void {
  process.stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code !== 'EPIPE') throw error;
    process.exit(DONE);
  });
}

/**
 * @param args what follows `kneepoint` on the command line
 * @returns the exit status
 */
export async function main(args: string[]): Promise<number> {
  allowEarlyClose();
  try {
    return await dispatch(args);
  } catch (error) {
    process.stderr.write(`kneepoint: ${explain(error)}\n`);
    if (process.env.KNEEPOINT_DEBUG === '1' && error instanceof Error) {
      process.stderr.write(`${inspect(error)}\n`);
    }
    return UNUSABLE;
  }
}
