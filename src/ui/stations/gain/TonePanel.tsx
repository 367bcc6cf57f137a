import { useState, useSyncExternalStore } from 'react';
import { soundEngine } from '../../../audio/engine/sound-engine.ts';
import { canChooseOutput } from '../../../audio/playback/output-choice.ts';
import type { EndedBecause } from '../../../audio/playback/player-state.ts';
import { HIGHEST_LEVEL_DBFS } from '../../../audio/playback/protection.ts';
import type { Job, JobChannel } from '../../../job/document.ts';
import { cautionsRead } from '../../cautions/confirmed.ts';
import { ChoiceField, TickField } from '../../fields/ChoiceField.tsx';
import { toneFrequency, toneLevel } from '../../format/tone-frequency.ts';
import { useObservable } from '../../live/observable.ts';
import { useGain } from '../../session/gain-session.ts';
import { gainTrackFile } from '../../session/level-track.ts';
import { tonePlayer, useSilentOnceLeft } from '../../session/tone-player.ts';

const ENDED_WORDS: Partial<Record<EndedBecause, string>> = {
  'time-limit':
    'The tone stopped by itself after its time limit, so that no coil overheats. Press again to go on.',
  'devices-changed': 'The tone stopped because an output or input was plugged in or pulled.',
  interrupted: 'The tone was interrupted by the system.',
};

const SIDE_WORDS = { left: 'on the left', right: 'on the right', both: 'on both sides' };

function OutputChoice() {
  const { outputs } = useSyncExternalStore(soundEngine.subscribe, soundEngine.getState);
  const { outputId } = useSyncExternalStore(tonePlayer.subscribe, tonePlayer.getState);
  const [fault, setFault] = useState<string | null>(null);
  const named = outputs.filter((output) => output.label !== '');
  if (!canChooseOutput() || named.length === 0) return null;
  return (
    <>
      <ChoiceField
        label="Output"
        value={outputId ?? ''}
        choices={[
          { value: '', words: 'as the system chooses' },
          ...named.map((output) => ({ value: output.deviceId, words: output.label })),
        ]}
        onChange={(id) => {
          setFault(null);
          tonePlayer
            .setOutput(id === '' ? null : id)
            .catch((error: unknown) => setFault(error instanceof Error ? error.message : String(error)));
        }}
      />
      {fault !== null && <p className="wrong small">{fault}</p>}
    </>
  );
}

function FromThisDevice({ channel }: { channel: JobChannel }) {
  const { phase, ended } = useSyncExternalStore(tonePlayer.subscribe, tonePlayer.getState);
  const read = useObservable(cautionsRead);
  const [loud, setLoud] = useState(false);
  const [fault, setFault] = useState<string | null>(null);
  useSilentOnceLeft();
  const { frequencyHz } = channel.tone;
  const levelDbfs = useGain((state) => state?.task.toneDbfs ?? channel.tone.levelDbfs);
  const isLoud = levelDbfs > HIGHEST_LEVEL_DBFS;
  const sounding = phase !== 'silent';
  const play = () => {
    setFault(null);
    const request = {
      // The player's own limit ends it long before.
      spec: { kind: 'sine', frequencyHz, levelDbfs, durationSeconds: 600 },
      channels: channel.fedBy,
      description: `${toneFrequency(frequencyHz)} at ${toneLevel(levelDbfs)}`,
      loudConfirmed: loud,
    } as const;
    tonePlayer
      .play(request)
      .catch((error: unknown) => setFault(error instanceof Error ? error.message : String(error)));
  };
  const why = !read ? 'Confirm the cautions first.' : isLoud && !loud ? 'Confirm the loud tone first.' : null;
  return (
    <>
      {isLoud && (
        <TickField
          label={`I have read the cautions and want a tone as loud as ${toneLevel(levelDbfs)}`}
          value={loud}
          onChange={setLoud}
        />
      )}
      <button
        type="button"
        className="act"
        aria-pressed={sounding}
        disabled={!sounding && why !== null}
        onClick={() => (sounding ? void tonePlayer.stop() : play())}
      >
        {sounding ? 'Stop the tone' : `Play it from this device ${SIDE_WORDS[channel.fedBy]}`}
      </button>
      <p role="status" className="small soft">
        {fault ?? (sounding ? null : (why ?? (ended === null ? null : ENDED_WORDS[ended])))}
      </p>
      <OutputChoice />
    </>
  );
}

/** The setting tone: from the radio by its track, or through this device's own output. */
export function TonePanel({ job, channel }: { job: Job; channel: JobChannel }) {
  const { frequencyHz } = channel.tone;
  const levelDbfs = useGain((state) => state?.task.toneDbfs ?? channel.tone.levelDbfs);
  const isReduced = useGain((state) => state?.task.level === 'reduced');
  const track = gainTrackFile(job, channel.id, isReduced ? 'reduced' : 'level');
  return (
    <section className="sheet" aria-labelledby="tone-title">
      <h2 id="tone-title">
        The tone{' '}
        <small className="soft">
          {toneFrequency(frequencyHz)} at {toneLevel(levelDbfs)}
        </small>
      </h2>
      <p>
        On the radio: play <b>{track ?? 'this tone'}</b> of the tone set (Plan station), bass, treble and
        balance at their middle, the volume at its highest clean step.
      </p>
      <FromThisDevice channel={channel} />
    </section>
  );
}
