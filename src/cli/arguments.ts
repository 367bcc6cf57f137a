/** Reading of command-line arguments, with every complaint as one sentence. */
import { type ParseArgsConfig, parseArgs } from 'node:util';
import { UsageError } from './usage-error.ts';

type Options = NonNullable<ParseArgsConfig['options']>;

interface Reading<T extends Options> {
  args: string[];
  options: T;
  strict: true;
  allowPositionals: true;
}

const NEGATIVE_NUMBER = /^-(\d|\.\d)/;

/**
 * `node:util` takes `--watts -5` for two options; a person means a number. The
 * two are joined, so that the number reaches its own check and its own sentence.
 */
function joinNegativeNumbers(args: string[], options: Options): string[] {
  const joined: string[] = [];
  for (const argument of args) {
    const previous = joined.at(-1) ?? '';
    const takesValue = previous.startsWith('--') && options[previous.slice(2)]?.type === 'string';
    if (takesValue && NEGATIVE_NUMBER.test(argument)) joined[joined.length - 1] = `${previous}=${argument}`;
    else joined.push(argument);
  }
  return joined;
}

/** `node:util` takes the last of several and drops the others without a word: `--at left --at right`, say. */
function refuseRepeated(args: string[], options: Options, help: string): void {
  const { tokens } = parseArgs({ args, options, strict: true, allowPositionals: true, tokens: true });
  const given = tokens.flatMap((token) =>
    token.kind === 'option' && options[token.name]?.type === 'string' ? [token.name] : [],
  );
  const twice = given.find((name, index) => given.indexOf(name) < index);
  if (twice !== undefined) throw new UsageError(`--${twice} is given more than once; ${help}`);
}

function firstSentence(message: string): string {
  return (message.split('\n')[0] ?? message).split(/\. (?=[A-Z])/)[0]?.replace(/\.$/, '') ?? message;
}

/**
 * @param command name of the command, for the pointer to its help
 * @param options as `parseArgs` of `node:util` takes them
 * @throws UsageError for an unknown option, one without its value, or one with two
 */
export function readArguments<T extends Options>(
  command: string,
  args: string[],
  options: T,
): ReturnType<typeof parseArgs<Reading<T>>> {
  const help = `"kneepoint ${command} --help" lists what it takes.`;
  const joined = joinNegativeNumbers(args, options);
  try {
    const read = parseArgs<Reading<T>>({ args: joined, options, strict: true, allowPositionals: true });
    refuseRepeated(joined, options, help);
    return read;
  } catch (error) {
    if (error instanceof UsageError) throw error;
    const why = error instanceof Error ? firstSentence(error.message) : String(error);
    throw new UsageError(`${why}; ${help}`);
  }
}

/** What a number given on the command line must be. */
export interface NumberRule {
  /** With its dashes, as the person typed it. */
  option: string;
  /** What the number is, with its unit: "the rated power in watts". */
  meaning: string;
  accepts(value: number): boolean;
  /** Completes "must be …": "a number above 0". */
  mustBe: string;
}

/** @throws UsageError when the text is no finite number or the rule refuses it */
export function readNumber(text: string, rule: NumberRule): number {
  const value = text.trim() === '' ? Number.NaN : Number(text);
  if (!Number.isFinite(value) || !rule.accepts(value)) {
    throw new UsageError(`${rule.option} ${text}: ${rule.meaning} must be ${rule.mustBe}.`);
  }
  return value;
}
