import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { Progress } from '../../src/cli/progress.ts';

const written: string[] = [];
const isTty = Object.getOwnPropertyDescriptor(process.stderr, 'isTTY');

function sitAt(terminal: boolean): void {
  Object.defineProperty(process.stderr, 'isTTY', { value: terminal, configurable: true });
}

beforeEach(() => {
  written.length = 0;
  vi.useFakeTimers({ toFake: ['performance'] });
  vi.spyOn(process.stderr, 'write').mockImplementation((text) => {
    written.push(String(text));
    return true;
  });
});

afterEach(() => {
  vi.useRealTimers();
  vi.restoreAllMocks();
  if (isTty === undefined) Reflect.deleteProperty(process.stderr, 'isTTY');
  else Object.defineProperty(process.stderr, 'isTTY', isTty);
});

/** Ten parts of a hundred, one every `ms`. */
function work(ms: number): void {
  const progress = new Progress('measuring', 100);
  for (let part = 0; part < 10; part += 1) {
    vi.advanceTimersByTime(ms);
    progress.add(10);
  }
  progress.end();
}

test('work of less than a second shows nothing', () => {
  sitAt(true);
  work(99);
  expect(written).toEqual([]);
});

test('longer work shows its share from the first second on, in one line that is wiped at the end', () => {
  sitAt(true);
  work(400);
  expect(written).toHaveLength(9);
  expect(written[0]).toMatch(/^\rmeasuring: \[#{7} {17}\] {2}30 %$/);
  expect(written[7]).toMatch(/^\rmeasuring: \[#{24}\] 100 %$/);
  expect(written[8]).toBe('\r\u001b[K');
});

test('five times a second at most', () => {
  sitAt(true);
  const progress = new Progress('measuring', 10_000);
  vi.advanceTimersByTime(1000);
  for (let ms = 0; ms < 1000; ms += 1) {
    vi.advanceTimersByTime(1);
    progress.add(1);
  }
  expect(written).toHaveLength(5);
});

test('nothing goes into a pipe', () => {
  sitAt(false);
  work(400);
  expect(written).toEqual([]);
});
