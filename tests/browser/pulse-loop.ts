/**
 * Sound between programs with no sound card: a private PulseAudio server with
 * null sinks. What a program plays into a sink can be recorded from it; one
 * sink can be made the input that a browser opens. Everything lives in a folder
 * of its own and ends by the ids of the processes started here.
 */
import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { findCommand } from '../../bin/browser.js';

export interface PulseLoopRequest {
  rateHz: number;
  /** Null sinks to make; the first is where programs play unless they choose. */
  sinks: string[];
  /** Sink whose sound is offered as the input, under the name `INPUT_LABEL`. */
  inputFrom: string;
}

/** Browsers hide a sink's monitor; renamed, it is an input like any other. */
const INPUT_LABEL = 'Loop-input';

export interface PulseLoop {
  /** For every program that is to use this server. */
  env: NodeJS.ProcessEnv;
  /** What sounds in `sink` from now on: one array for each of two channels, full scale 1.0. */
  record(sink: string, seconds: number): Promise<[Float64Array, Float64Array]>;
  /**
   * Carries sound from one sink to another through SoX with these effects. SoX
   * limits hard at full scale after each of them, as an amplifier at its rails.
   */
  connect(from: string, to: string, soxEffects: string[]): Connection;
  stop(): Promise<void>;
}

interface Connection {
  disconnect(): Promise<void>;
}

const PROGRAMS = ['pulseaudio', 'pactl', 'parec', 'pacat', 'sox'];

/**
 * `null` where the loop can run. Otherwise the reason, for a test to skip with;
 * where CI is set it throws instead, since there the programs are installed first.
 */
export function whyNoPulseLoop(): string | null {
  const missing = PROGRAMS.filter((name) => findCommand(name) === null);
  if (missing.length === 0) return null;
  const reason = `not run: ${missing.join(', ')} not found (Debian: pulseaudio pulseaudio-utils sox)`;
  if (process.env.CI) throw new Error(reason);
  return reason;
}

/** @throws Error when the server does not come up within five seconds */
export async function startPulseLoop(request: PulseLoopRequest): Promise<PulseLoop> {
  const home = mkdtempSync(join(tmpdir(), 'kneepoint-pulse-'));
  const socket = join(home, 'native');
  writeFileSync(join(home, 'loop.pa'), script(socket, request));
  writeFileSync(join(home, 'daemon.conf'), daemonSettings(request.rateHz));
  const env = {
    ...process.env,
    XDG_RUNTIME_DIR: home,
    PULSE_RUNTIME_PATH: home,
    PULSE_STATE_PATH: home,
    PULSE_CONFIG_PATH: home,
    PULSE_SERVER: `unix:${socket}`,
  };
  const children: ChildProcess[] = [];
  const run = (program: string, args: string[]) => {
    const child = spawn(program, args, { env, stdio: ['pipe', 'pipe', 'ignore'] });
    children.push(child);
    return child;
  };
  run('pulseaudio', [
    '-n',
    '-F',
    join(home, 'loop.pa'),
    '--daemonize=no',
    '--exit-idle-time=-1',
    '--use-pid-file=no',
  ]);
  const stop = async () => {
    // Last started, first ended: the server outlives what is connected to it.
    for (const child of children.toReversed()) await ended(child);
    rmSync(home, { recursive: true, force: true });
  };
  try {
    await serverAnswers(env);
  } catch (error) {
    await stop();
    throw error;
  }
  return {
    env,
    record: (sink, seconds) =>
      record(run('parec', recordArguments(sink, request.rateHz)), request.rateHz, seconds),
    connect: (from, to, soxEffects) => connect(run, request.rateHz, from, to, soxEffects),
    stop,
  };
}

function script(socket: string, { rateHz, sinks, inputFrom }: PulseLoopRequest): string {
  const format = `rate=${rateHz} format=float32le channels=2`;
  return [
    `load-module module-native-protocol-unix socket=${socket} auth-anonymous=1`,
    ...sinks.map(
      (sink) =>
        `load-module module-null-sink sink_name=${sink} ${format} sink_properties=device.description=${sink}`,
    ),
    `load-module module-remap-source source_name=loop_input master=${inputFrom}.monitor source_properties=device.description=${INPUT_LABEL}`,
    `set-default-sink ${sinks[0]}`,
    'set-default-source loop_input',
    '',
  ].join('\n');
}

/** One rate and float samples throughout: resampling would limit distortion readings to -77 dB. */
function daemonSettings(rateHz: number): string {
  return [
    `default-sample-rate = ${rateHz}`,
    'default-sample-format = float32le',
    'avoid-resampling = yes',
    'resample-method = soxr-vhq',
    'flat-volumes = no',
    'realtime-scheduling = no',
    '',
  ].join('\n');
}

async function serverAnswers(env: NodeJS.ProcessEnv): Promise<void> {
  for (let tries = 0; tries < 50; tries += 1) {
    if (spawnSync('pactl', ['info'], { env }).status === 0) return;
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  throw new Error('PulseAudio did not answer within 5 s: is it installed, and may it make a socket?');
}

function recordArguments(sink: string, rateHz: number): string[] {
  const format = [`--rate=${rateHz}`, '--format=float32le', '--channels=2'];
  return ['--record', `--device=${sink}.monitor`, ...format, '--latency-msec=20'];
}

function record(
  recorder: ChildProcess,
  rateHz: number,
  seconds: number,
): Promise<[Float64Array, Float64Array]> {
  const frames = Math.round(seconds * rateHz);
  const bytes = frames * 8;
  const chunks: Buffer[] = [];
  let have = 0;
  return new Promise((resolve, reject) => {
    recorder.on('exit', () => {
      if (have < bytes) reject(new Error(`parec ended after ${have} of ${bytes} bytes.`));
    });
    recorder.stdout?.on('data', (chunk: Buffer) => {
      chunks.push(chunk);
      have += chunk.length;
      if (have < bytes) return;
      recorder.kill();
      const all = Buffer.concat(chunks);
      const left = Float64Array.from({ length: frames }, (_, frame) => all.readFloatLE(8 * frame));
      const right = Float64Array.from({ length: frames }, (_, frame) => all.readFloatLE(8 * frame + 4));
      resolve([left, right]);
    });
  });
}

function connect(
  run: (program: string, args: string[]) => ChildProcess,
  rateHz: number,
  from: string,
  to: string,
  soxEffects: string[],
): Connection {
  const raw = ['-t', 'raw', '-e', 'floating-point', '-b', '32', '-r', `${rateHz}`, '-c', '2', '-'];
  const format = [`--rate=${rateHz}`, '--format=float32le', '--channels=2', '--latency-msec=100'];
  const ear = run('parec', recordArguments(from, rateHz));
  const sox = run('sox', ['-V1', '--buffer', '1024', ...raw, ...raw, ...soxEffects]);
  const mouth = run('pacat', ['--playback', `--device=${to}`, ...format]);
  for (const pipe of [sox.stdin, mouth.stdin]) pipe?.on('error', () => {});
  ear.stdout?.pipe(sox.stdin as NodeJS.WritableStream);
  sox.stdout?.pipe(mouth.stdin as NodeJS.WritableStream);
  return {
    async disconnect() {
      for (const child of [ear, sox, mouth]) await ended(child);
    },
  };
}

/** Asks a process to end, and waits until it has; after two seconds it is made to. */
async function ended(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return;
  const gone = new Promise<void>((resolve) => child.once('exit', () => resolve()));
  child.kill();
  const deadline = setTimeout(() => child.kill('SIGKILL'), 2000);
  await gone;
  clearTimeout(deadline);
}
