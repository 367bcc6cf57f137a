/** The one player of the page, sharing the engine's context; the engine's state tells what it plays. */
import { useEffect } from 'react';
import { soundEngine } from '../../audio/engine/sound-engine.ts';
import { createPlayer } from '../../audio/playback/player.ts';

export const tonePlayer = createPlayer({ context: async () => soundEngine.audioContext() });

tonePlayer.subscribe(() => {
  const { playing, outputId } = tonePlayer.getState();
  soundEngine.setPlaying(
    playing === null
      ? null
      : { description: playing.description, levelDbfs: playing.levelDbfs, channels: playing.channels },
  );
  soundEngine.setOutput(outputId);
});

soundEngine.onContextClosing(() => void tonePlayer.stop());

/** For whatever offers the button that stops a tone: once it is gone from the screen, so is the tone. */
export function useSilentOnceLeft(): void {
  useEffect(() => () => void tonePlayer.stop(), []);
}
