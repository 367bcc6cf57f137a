import type { z } from 'zod';

type Issue = z.core.$ZodIssue;

/** `channels[2].drivers.coilOhms`; the whole document where the path is empty. */
function pathName(path: readonly PropertyKey[]): string {
  return path.reduce<string>((name, step) => {
    if (typeof step === 'number') return `${name}[${step}]`;
    return name === '' ? String(step) : `${name}.${String(step)}`;
  }, '');
}

function valueAt(document: unknown, path: readonly PropertyKey[]): unknown {
  return path.reduce<unknown>(
    (value, step) =>
      typeof value === 'object' && value !== null ? (value as Record<PropertyKey, unknown>)[step] : undefined,
    document,
  );
}

/** What stands in the file, short enough for one sentence. */
function shown(value: unknown): string {
  if (value === undefined) return 'missing';
  if (Array.isArray(value)) return value.length === 0 ? 'an empty list' : `a list of ${value.length}`;
  if (typeof value === 'object' && value !== null) return 'an object';
  const text = JSON.stringify(value) ?? String(value);
  return text.length <= 40 ? text : `${text.slice(0, 37)}..."`;
}

const TYPE_NAMES: Record<string, string> = {
  number: 'a number',
  int: 'a whole number',
  string: 'a text',
  boolean: 'true or false',
  array: 'a list',
  object: 'an object',
  null: 'null',
};

function listOf(values: readonly unknown[]): string {
  return values.map((value) => JSON.stringify(value)).join(', ');
}

function measureOf(origin: string): string {
  if (origin === 'string') return ' characters';
  return origin === 'array' ? ' entries' : '';
}

/** The second half of the sentence: what would be right. */
function wanted(issue: Issue): string {
  switch (issue.code) {
    case 'invalid_type':
      return `it must be ${TYPE_NAMES[issue.expected] ?? issue.expected}`;
    case 'too_small':
      return `it must be ${issue.inclusive ? 'at least' : 'above'} ${issue.minimum}${measureOf(issue.origin)}`;
    case 'too_big':
      return `it must be ${issue.inclusive ? 'at most' : 'below'} ${issue.maximum}${measureOf(issue.origin)}`;
    case 'invalid_value':
      return issue.values.length === 1
        ? `it must be ${listOf(issue.values)}`
        : `it must be one of ${listOf(issue.values)}`;
    case 'invalid_format':
      return issue.format === 'datetime'
        ? 'it must be a time such as "2026-03-14T09:00:00.000Z"'
        : `it must be ${issue.message}`;
    case 'unrecognized_keys':
      return `it must not have ${listOf(issue.keys)}`;
    default:
      return issue.message;
  }
}

/** One of several shapes was possible and none fitted: the complaint that reached deepest says most. */
function deepest(issue: Issue): { issue: Issue; path: PropertyKey[] } {
  if (issue.code !== 'invalid_union') return { issue, path: [...issue.path] };
  const inner = issue.errors
    .flat()
    .map((one) => deepest(one))
    .sort((a, b) => b.path.length - a.path.length)[0];
  return inner === undefined
    ? { issue, path: [...issue.path] }
    : { issue: inner.issue, path: [...issue.path, ...inner.path] };
}

/**
 * The first thing wrong with a document, as one sentence without its full stop: where, what is there, what
 * would be right; and how many more there are.
 */
export function firstFault(document: unknown, error: z.ZodError): string {
  const [first, ...more] = error.issues;
  if (first === undefined) return 'it is not valid';
  const { issue, path } = deepest(first);
  const name = pathName(path) || 'the document';
  const others =
    more.length === 0 ? '' : ` (and ${more.length} more ${more.length === 1 ? 'fault' : 'faults'})`;
  return `${name} is ${shown(valueAt(document, path))}; ${wanted(issue)}${others}`;
}
