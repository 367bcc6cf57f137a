/** Runs the practice rig and posts its samples as blocks. */
import { PracticeRig } from '../../rig/practice-rig.ts';
import type { RecycleMessage } from '../blocks.ts';
import { BlockGatherer } from '../capture/block-gatherer.ts';
import type { RigCommand, RigReport } from './rig-command.ts';
import { RigPacer } from './rig-pacer.ts';

/** Shorter than a block lasts, so that blocks leave evenly. */
const TURN_MS = 10;

let rig: PracticeRig | null = null;
let pacer: RigPacer | null = null;
let timer = 0;
/** Counts tones, so that one not begun yet is told from the last. */
let lastTone = 0;

function start(command: Extract<RigCommand, { type: 'start' }>): void {
  const { config, controls, tone, pace, port } = command;
  const gatherer = new BlockGatherer((message, transfer) => port.postMessage(message, transfer));
  port.onmessage = (event: MessageEvent<RecycleMessage>) => gatherer.recycle(event.data.channels);
  rig = new PracticeRig(config, controls, tone);
  const paced = new RigPacer(rig, gatherer, pace * config.sampleRateHz);
  paced.run(performance.now());
  timer = self.setInterval(() => paced.turn(performance.now()), TURN_MS);
  pacer = paced;
  self.postMessage({ type: 'started' } satisfies RigReport);
}

function playAfter({ tone, afterFrames }: Extract<RigCommand, { type: 'tone' }>): void {
  lastTone += 1;
  const asked = lastTone;
  pacer?.after(afterFrames, () => {
    if (asked === lastTone) rig?.setTone(tone);
  });
}

function tellAfter(frames: number, id: number): void {
  pacer?.after(frames, (frame) => self.postMessage({ type: 'made', id, frame } satisfies RigReport));
}

self.onmessage = (event: MessageEvent<RigCommand>) => {
  const command = event.data;
  switch (command.type) {
    case 'start':
      return start(command);
    case 'controls':
      return rig?.setControls(command.controls);
    case 'tone':
      return playAfter(command);
    case 'await':
      return tellAfter(command.frames, command.id);
    case 'hold':
      pacer?.hold();
      return tellAfter(0, command.id);
    case 'release':
      return pacer?.release();
    case 'pause':
      return pacer?.pause();
    case 'resume':
      return pacer?.run(performance.now());
    case 'stop':
      return self.clearInterval(timer);
  }
};
