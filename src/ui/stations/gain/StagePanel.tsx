import type { JobChannel } from '../../../job/document.ts';
import { fixed } from '../../../job/format/number.ts';
import { stageSentence } from '../../../procedure/gain/stage/stage-words.ts';
import { MarkSign } from '../../marks/MarkSign.tsx';
import { LiveText } from '../../outputs/LiveText.tsx';
import { gainEvent, gainNow, useGain } from '../../session/gain-session.ts';
import { probeAt } from '../../session/rig-session.ts';
import { FindingsList } from '../parts/FindingsList.tsx';
import { useFocusHere } from '../parts/focus-here.ts';

const READING = { 'as-found': 'First reading', lower: 'Second reading', radio: 'Third reading', named: '' };

function lowered(): string {
  const state = gainNow();
  const from = state?.stageCheck?.asFound?.levelDbfs ?? null;
  const now = state?.latest?.levelDbfs ?? null;
  if (state?.stageCheck?.phase !== 'lower' || from === null || now === null) return '';
  return `The level has changed by ${fixed(Math.abs(from - now), 1)} dB so far.`;
}

/** Two readings, and a third where the clipping lies ahead of the amplifier: whose ceiling is it? */
export function StagePanel({ channel, onRig }: { channel: JobChannel; onRig: boolean }) {
  const here = useFocusHere<HTMLElement>();
  const phase = useGain((state) => state?.stageCheck?.phase ?? 'named');
  const stage = useGain((state) => state?.stageCheck?.named?.stage ?? null);
  const away = useGain((state) => state?.stageCheck?.isLeadAway ?? false);
  const named = gainNow()?.stageCheck?.named ?? null;
  const done = () => {
    if (onRig && away) probeAt(channel.id);
    gainEvent({ type: 'stage-done' });
  };
  const toRadio = () => {
    if (onRig) probeAt(channel.fedBy === 'right' ? 'radio-right' : 'radio-left');
    gainEvent({ type: 'stage-radio' });
  };
  const asksRadio = phase === 'named' && stage === 'upstream';
  return (
    <section ref={here} tabIndex={-1} className="sheet stage-panel" aria-label="Which stage clips">
      {phase !== 'named' && (
        <p>
          <b>{READING[phase]}.</b> <LiveText read={lowered} />
        </p>
      )}
      {phase === 'named' && stage === 'none' && named !== null && (
        <p role="status">
          <MarkSign mark="done" /> <b>{stageSentence(named)}</b> {named.evidence}
        </p>
      )}
      {phase === 'named' && <FindingsList findings={gainNow()?.findings ?? []} nothing={null} />}
      {asksRadio && !onRig && (
        <p className="small soft">
          Both speaker terminals of a radio are bridged: neither is ground. Keep the lead behind its divider.
        </p>
      )}
      <div className="acts">
        {asksRadio && (
          <button type="button" className="act main" onClick={toRadio}>
            {onRig ? 'Move the lead to the radio' : 'The lead is on the radio'}
          </button>
        )}
        <button type="button" className={phase === 'named' && !asksRadio ? 'act main' : 'act'} onClick={done}>
          {away
            ? onRig
              ? 'Move the lead back'
              : 'The lead is back'
            : phase === 'named'
              ? 'Go on'
              : 'Leave it'}
        </button>
      </div>
    </section>
  );
}
