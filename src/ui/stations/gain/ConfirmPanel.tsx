import { useState, useSyncExternalStore } from 'react';
import { HIGHEST_LEVEL_DBFS } from '../../../audio/playback/protection.ts';
import type { Job, JobChannel } from '../../../job/document.ts';
import { burstRefusal, burstTonesDbfs } from '../../../procedure/gain/burst/burst-plan.ts';
import { cautionsRead } from '../../cautions/confirmed.ts';
import { TickField } from '../../fields/ChoiceField.tsx';
import { toneLevel } from '../../format/tone-frequency.ts';
import { useObservable } from '../../live/observable.ts';
import { gainNow, useGain } from '../../session/gain-session.ts';
import { beginBursts } from '../../session/gain-tone.ts';
import { gainTrackFile } from '../../session/level-track.ts';
import { tonePlayer } from '../../session/tone-player.ts';

/** Set at the reduced level: short bursts at full level, from whoever plays the tone. */
export function ConfirmPanel({ job, channel, onRig }: { job: Job; channel: JobChannel; onRig: boolean }) {
  const { phase } = useSyncExternalStore(tonePlayer.subscribe, tonePlayer.getState);
  const refusal = useGain((state) => (state === null ? '' : burstRefusal(state)));
  const highestDbfs = useGain((state) => (state === null ? 0 : Math.max(...burstTonesDbfs(state.task))));
  const read = useObservable(cautionsRead);
  const [loud, setLoud] = useState(false);
  const playsHere = onRig || phase !== 'silent';
  const needsTick = playsHere && !onRig && highestDbfs > HIGHEST_LEVEL_DBFS;
  const why =
    !onRig && !read
      ? 'Confirm the cautions first.'
      : needsTick && !loud
        ? 'Confirm the loud tone first.'
        : refusal;
  const track = gainTrackFile(job, channel.id, 'bursts');
  const begin = () => {
    const state = gainNow();
    if (why === null && state !== null && burstRefusal(state) === null)
      beginBursts(playsHere ? 'app' : 'track');
  };
  return (
    <div className="accept">
      {needsTick && (
        <TickField
          label={`I have read the cautions and want bursts as loud as ${toneLevel(highestDbfs)}`}
          value={loud}
          onChange={setLoud}
        />
      )}
      <button
        type="button"
        className="act main big"
        aria-disabled={why !== null}
        aria-describedby="bursts-why"
        onClick={begin}
      >
        {playsHere ? 'Confirm with short bursts' : 'Listen for the bursts'}
      </button>
      <p id="bursts-why" className="small soft accept-why">
        {why ??
          (playsHere
            ? `Full power, a second at most, ten times as long a pause: up to ${toneLevel(highestDbfs)}. Stand clear of bare terminals.`
            : `Then play ${track ?? 'the track with the bursts'} on the radio, once. Each burst carries full power: stand clear of bare terminals.`)}
      </p>
    </div>
  );
}
