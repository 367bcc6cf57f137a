import { MessageChannel, receiveMessageOnPort } from 'node:worker_threads';
import { expect, it } from 'vitest';
import { BLOCK_FRAMES, type BlockMessage } from '../../src/audio/blocks.ts';
import { openWorkletScope } from './capture-worklet-scope.ts';

async function running() {
  const scope = await openWorkletScope();
  const pipe = new MessageChannel();
  scope.port.postMessage({ type: 'sink', port: pipe.port1 }, [pipe.port1]);
  await settle();
  const received = (): BlockMessage[] => {
    const blocks: BlockMessage[] = [];
    for (let next = receiveMessageOnPort(pipe.port2); next; next = receiveMessageOnPort(pipe.port2))
      blocks.push(next.message);
    return blocks;
  };
  let frame = 0;
  const quantum = (channels: Float32Array[], frames = channels[0]?.length ?? 128): boolean => {
    scope.setCurrentFrame(frame);
    frame += frames;
    return scope.processor.process([channels]);
  };
  const jump = (frames: number) => {
    frame += frames;
  };
  return { scope, sink: pipe.port2, received, quantum, jump, end: () => close(scope.port, pipe.port2) };
}

const settle = () => new Promise((resolve) => setTimeout(resolve, 20));

function close(...ports: { close(): void }[]): void {
  for (const port of ports) port.close();
}

const tone = (frames: number, value: number) => new Float32Array(frames).fill(value);

it('posts one message for each 1024 frames, whatever the quantum, to the sink and not to the page', async () => {
  const { quantum, received, scope, end } = await running();
  for (let i = 0; i < 10; i++) expect(quantum([tone(256, 0.25), tone(256, -0.5)])).toBe(true);
  const blocks = received();
  expect(blocks).toHaveLength(2);
  expect(blocks[1]).toMatchObject({ type: 'block', sequence: 1, startFrame: BLOCK_FRAMES });
  expect(blocks[1]?.channels.map((channel) => [channel.length, channel[1023]])).toEqual([
    [BLOCK_FRAMES, 0.25],
    [BLOCK_FRAMES, -0.5],
  ]);
  expect(receiveMessageOnPort(scope.port)).toBeUndefined();
  end();
});

it('counts a quantum without channels as a gap, not as silence', async () => {
  const { quantum, received, end } = await running();
  quantum([tone(128, 0.5)]);
  for (let i = 0; i < 7; i++) quantum([]);
  expect(received()[0]?.facts.emptyQuanta).toBe(7);
  end();
});

it('counts frames that the render clock skipped', async () => {
  const { quantum, received, jump, end } = await running();
  for (let i = 0; i < 8; i++) quantum([tone(128, 0.5)]);
  jump(384);
  for (let i = 0; i < 8; i++) quantum([tone(128, 0.5)]);
  const blocks = received();
  expect(blocks[1]?.startFrame).toBe(BLOCK_FRAMES + 384);
  expect(blocks[1]?.facts.missedFrames).toBe(384);
  end();
});

it('posts nothing while paused, and no block that spans the pause', async () => {
  const { quantum, received, scope, end } = await running();
  for (let i = 0; i < 4; i++) quantum([tone(128, 0.125)]);
  scope.port.postMessage({ type: 'pause' });
  await settle();
  for (let i = 0; i < 40; i++) quantum([tone(128, 0.25)]);
  expect(received()).toHaveLength(0);
  scope.port.postMessage({ type: 'resume' });
  await settle();
  for (let i = 0; i < 8; i++) quantum([tone(128, 0.5)]);
  const blocks = received();
  expect(blocks).toHaveLength(1);
  expect(new Set(blocks[0]?.channels[0])).toEqual(new Set([0.5]));
  end();
});

it('uses again the buffers that the analysis gives back: 400 blocks without one frame missed', async () => {
  const { quantum, received, sink, end } = await running();
  let missed = 0;
  let count = 0;
  for (let i = 0; i < 400; i++) {
    for (let q = 0; q < 8; q++) quantum([tone(128, 0.5)]);
    for (const block of received()) {
      missed += block.facts.missedFrames;
      count++;
      sink.postMessage(
        { type: 'recycle', channels: block.channels },
        block.channels.map((c) => c.buffer),
      );
    }
    await new Promise((resolve) => setImmediate(resolve));
  }
  expect(count).toBe(400);
  expect(missed).toBe(0);
  end();
});

it('ends when told to stop, so that the browser can let the node go', async () => {
  const { quantum, scope, end } = await running();
  scope.port.postMessage({ type: 'stop' });
  await settle();
  expect(quantum([tone(128, 0.5)])).toBe(false);
  end();
});
