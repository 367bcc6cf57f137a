import { useEffect, useState, useSyncExternalStore } from 'react';
import { soundEngine } from '../../../audio/engine/sound-engine.ts';
import type { Doubt } from '../../../dsp/reading.ts';
import { DOUBT_WORDS } from '../../input-strip/doubt-words.ts';
import { onHeard } from '../../session/heard.ts';
import { listen } from '../../session/listening.ts';

/** Doubts of the latest reading; a new list only when they change, so that React draws slowly. */
function useDoubts(): readonly Doubt[] {
  const [doubts, setDoubts] = useState<readonly Doubt[]>([]);
  useEffect(
    () =>
      onHeard((reading) => {
        setDoubts((before) => (before.join() === reading.doubts.join() ? before : reading.doubts));
      }),
    [],
  );
  return doubts;
}

function times(count: number): string {
  return count === 1 ? 'once' : `${count} times`;
}

/** What is wrong with the input, in words, and how to go on. */
export function Doubts() {
  const { trouble, gaps, jumps, phase } = useSyncExternalStore(soundEngine.subscribe, soundEngine.getState);
  const doubts = useDoubts();
  const listening = phase === 'running' || phase === 'warming-up';
  return (
    <>
      {trouble !== null && (
        <section className="sheet note over" role="alert" aria-label="What happened">
          <p>
            <b>{trouble.sentence}</b>
          </p>
          <p>{trouble.goOn}</p>
          {trouble.canRetry && (
            <button type="button" className="act" onClick={() => void listen()}>
              Try again
            </button>
          )}
        </section>
      )}
      {listening && (
        <section aria-labelledby="doubts-title">
          <h2 id="doubts-title" className="unseen">
            Doubts
          </h2>
          {doubts.length === 0 ? (
            <p className="small soft">No doubts about the latest reading.</p>
          ) : (
            <ul className="plainlist">
              {doubts.map((doubt) => (
                <li key={doubt} className="note over">
                  <b>{DOUBT_WORDS[doubt].brief}.</b> {DOUBT_WORDS[doubt].full}
                </li>
              ))}
            </ul>
          )}
          {gaps > 0 && <p className="small soft">Audio was lost {times(gaps)} since the start.</p>}
          {jumps > 0 && (
            <p className="small soft">
              The tone jumped {times(jumps)} since the start: another one began, or a piece of audio is
              missing.
            </p>
          )}
        </section>
      )}
    </>
  );
}
