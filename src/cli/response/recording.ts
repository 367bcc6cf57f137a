import { openWav, type WavInfo } from '../../audio/wav/open-wav.ts';
import { readFrames } from '../../audio/wav/read-frames.ts';
import { FileBytes } from '../file-bytes.ts';
import { naming } from '../naming.ts';

const BLOCK_FRAMES = 16_384;

/** A recording of which any stretch of any channel can be had; what lies outside it is silence. */
export class Recording {
  readonly path: string;
  readonly info: WavInfo;
  readonly #bytes: FileBytes;
  readonly #blocks: Float32Array[];

  private constructor(path: string, bytes: FileBytes, info: WavInfo) {
    this.path = path;
    this.#bytes = bytes;
    this.info = info;
    this.#blocks = Array.from({ length: info.channelCount }, () => new Float32Array(BLOCK_FRAMES));
  }

  /** @throws UsageError when it is no WAV file that can be read */
  static async open(path: string): Promise<Recording> {
    const bytes = await FileBytes.open(path);
    try {
      return new Recording(path, bytes, await naming(path, () => openWav(bytes)));
    } catch (error) {
      await bytes.close();
      throw error;
    }
  }

  /** Fills `into` from `startFrame`, which may lie ahead of the file. */
  async read(channel: number, startFrame: number, into: Float64Array): Promise<void> {
    into.fill(0);
    const first = Math.max(0, startFrame);
    const end = Math.min(this.info.frames, startFrame + into.length);
    await naming(this.path, async () => {
      for (let frame = first; frame < end; frame += BLOCK_FRAMES) {
        const frames = Math.min(BLOCK_FRAMES, end - frame);
        await readFrames(this.info, frame, frames, this.#blocks);
        into.set(this.#blocks[channel]!.subarray(0, frames), frame - startFrame);
      }
    });
  }

  async close(): Promise<void> {
    await this.#bytes.close();
  }
}
