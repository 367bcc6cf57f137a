import { useEffect, useState } from 'react';
import type { Job } from '../../../job/document.ts';
import { type Offer, redoOffer, undoOffer } from '../../../job/history/history.ts';
import { useObservable } from '../../live/observable.ts';
import { endTyping, jobSession, redoEdit, undoEdit } from '../../session/job-session.ts';

/** Ctrl+Z undoes; Ctrl+Shift+Z and Ctrl+Y redo; the Command key where there is one. `null` for any other key. */
function historyKey({ key, ctrlKey, metaKey, shiftKey, altKey }: KeyboardEvent): 'undo' | 'redo' | null {
  if (!(ctrlKey || metaKey) || altKey) return null;
  const letter = key.toLowerCase();
  if (letter === 'z') return shiftKey ? 'redo' : 'undo';
  return letter === 'y' && !shiftKey ? 'redo' : null;
}

function Step({ word, offer, onPress }: { word: string; offer: Offer | null; onPress: () => void }) {
  const isIdle = offer === null || offer.refused !== null;
  // Not `disabled`: whoever presses the last one by keyboard would be nowhere then.
  return (
    <button
      type="button"
      className="act"
      aria-disabled={isIdle}
      onClick={() => {
        if (!isIdle) onPress();
      }}
    >
      <b>{word}</b>
      <span className="unseen">: </span>
      <span>{offer === null ? 'nothing yet' : offer.what}</span>
    </button>
  );
}

/** Takes edits of the job back, one by one, and brings them back; says which. Records are no part of it. */
export function HistoryBar({ job }: { job: Job }) {
  const { history } = useObservable(jobSession);
  const [said, setSaid] = useState('');
  const undo = undoOffer(history, job);
  const redo = redoOffer(history, job);
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      const way = historyKey(event);
      if (way === null) return;
      event.preventDefault();
      setSaid((way === 'undo' ? undoEdit() : redoEdit()) ?? '');
    };
    window.addEventListener('keydown', onKey);
    window.addEventListener('focusout', endTyping);
    return () => {
      window.removeEventListener('keydown', onKey);
      window.removeEventListener('focusout', endTyping);
    };
  }, []);
  return (
    <div className="history">
      <div className="acts">
        <Step word="Undo" offer={undo} onPress={() => setSaid(undoEdit() ?? '')} />
        <Step word="Redo" offer={redo} onPress={() => setSaid(redoEdit() ?? '')} />
      </div>
      {(undo?.refused ?? redo?.refused) && <p className="small soft">{undo?.refused ?? redo?.refused}</p>}
      <p role="status" className="unseen">
        {said}
      </p>
    </div>
  );
}
