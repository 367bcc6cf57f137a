/**
 * A real capture path with no sound card: a private PulseAudio server with a
 * null sink whose monitor, renamed by module-remap-source (Chromium hides
 * monitors), is the input that the browser opens.
 */
import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

export const LOOP_LABEL = 'Kneepoint-loop';

/**
 * Starts the server and plays `wav` (raw float32 stereo at `rateHz`) over and
 * over into the loop. Throws if PulseAudio is missing or will not start.
 */
export async function startPulseLoop({ rateHz, wav }) {
  const home = mkdtempSync(join(tmpdir(), 'pulse-loop-'));
  const socket = join(home, 'native');
  const config = join(home, 'loop.pa');
  writeFileSync(config, pulseScript(socket, rateHz));
  writeFileSync(join(home, 'daemon.conf'), daemonSettings(rateHz));
  const env = {
    ...process.env,
    XDG_RUNTIME_DIR: home,
    PULSE_RUNTIME_PATH: home,
    PULSE_STATE_PATH: home,
    PULSE_CONFIG_PATH: home,
    PULSE_SERVER: `unix:${socket}`,
  };
  const flags = ['-n', '-F', config, '--daemonize=no', '--exit-idle-time=-1', '--use-pid-file=no'];
  const server = spawn('pulseaudio', flags, { env, stdio: 'ignore' });
  await waitForServer(env);
  const player = wav ? playForEver(env, wav, rateHz) : null;
  return {
    env,
    stop() {
      player?.stop();
      server.kill();
    },
  };
}

function pulseScript(socket, rateHz) {
  const format = `rate=${rateHz} format=float32le channels=2`;
  return [
    `load-module module-native-protocol-unix socket=${socket} auth-anonymous=1`,
    `load-module module-null-sink sink_name=loop ${format}`,
    `load-module module-null-sink sink_name=away ${format}`,
    `load-module module-remap-source source_name=loop_in master=loop.monitor source_properties=device.description=${LOOP_LABEL}`,
    'set-default-sink away',
    'set-default-source loop_in',
    '',
  ].join('\n');
}

function daemonSettings(rateHz) {
  return `default-sample-rate = ${rateHz}\ndefault-sample-format = float32le\navoid-resampling = yes\nresample-method = soxr-vhq\nrealtime-scheduling = no\n`;
}

async function waitForServer(env) {
  for (let tries = 0; tries < 50; tries++) {
    if (spawnSync('pactl', ['info'], { env }).status === 0) return;
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  throw new Error('PulseAudio did not start: is it installed, and is its own socket directory writable?');
}

/** One pacat for the whole run, fed from memory, so that the loop's seam is the signal's and not a restart's. */
function playForEver(env, samples, rateHz) {
  const flags = ['--playback', '--device=loop', `--rate=${rateHz}`, '--format=float32le', '--channels=2'];
  const player = spawn('pacat', [...flags, '--latency-msec=500'], {
    env,
    stdio: ['pipe', 'ignore', 'ignore'],
  });
  let running = true;
  player.stdin.on('error', () => {
    running = false;
  });
  const feed = () => {
    while (running) if (!player.stdin.write(samples)) return;
  };
  player.stdin.on('drain', feed);
  feed();
  return {
    stop() {
      running = false;
      player.kill();
    },
  };
}
