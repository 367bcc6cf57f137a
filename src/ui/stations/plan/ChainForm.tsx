import { chainWarnings } from '../../../job/chain-warnings.ts';
import type { Job, JobAmplifier, JobChannel } from '../../../job/document.ts';
import { outputsFree, outputsUsed } from '../../../job/outputs.ts';
import { recordedChannelIds } from '../../../job/recorded-channels.ts';
import { MaybeNumberField } from '../../fields/NumberField.tsx';
import { TextField } from '../../fields/TextField.tsx';
import { editJob } from '../../session/job-session.ts';
import { AmplifierForm } from './AmplifierForm.tsx';
import { ChannelForm } from './ChannelForm.tsx';
import { ConverterForm } from './ConverterForm.tsx';
import { ChainDrawing } from './drawing/ChainDrawing.tsx';
import { copyOfAmplifier, copyOfChannel, newAmplifier, newChannel } from './new-parts.ts';
import { Part, PartActs, PartWarnings } from './Part.tsx';
import { CHAIN_TITLE } from './part-name.ts';
import { SourceForm } from './SourceForm.tsx';

function replaced<T extends { id: string }>(list: T[], next: T): T[] {
  return list.map((one) => (one.id === next.id ? next : one));
}

function addAmplifier(made: (job: Job) => JobAmplifier): void {
  editJob((job) => ({ ...job, amplifiers: [...job.amplifiers, made(job)] }));
}

function addChannel(made: (job: Job) => JobChannel): void {
  editJob((job) => ({ ...job, channels: [...job.channels, made(job)] }));
}

/** Why a channel stays, or cannot be had twice. */
function channelReason(job: Job, channel: JobChannel, isFull: boolean): string | null {
  if (recordedChannelIds(job).has(channel.id)) {
    return 'It stays: what is recorded of it must not lose its channel.';
  }
  if (job.channels.length === 1) return 'A job has at least one channel, so the only one stays.';
  return isFull ? 'To duplicate it, the amplifier needs a free channel.' : null;
}

function ChannelPart({ job, channel }: { job: Job; channel: JobChannel }) {
  const isFull = outputsFree(job, channel.amplifierId) < (channel.bridged ? 2 : 1);
  const stays = job.channels.length === 1 || recordedChannelIds(job).has(channel.id);
  return (
    <Part part={`channel ${channel.id}`} title={channel.name}>
      <ChannelForm
        job={job}
        channel={channel}
        onChange={(next) => editJob((now) => ({ ...now, channels: replaced(now.channels, next) }))}
      />
      <PartActs
        name="this channel"
        onCopy={isFull ? null : () => addChannel((now) => copyOfChannel(now, channel))}
        onRemove={
          stays
            ? null
            : () =>
                editJob((now) => ({ ...now, channels: now.channels.filter(({ id }) => id !== channel.id) }))
        }
        whyNot={channelReason(job, channel, isFull)}
      />
    </Part>
  );
}

function AmplifierPart({ job, amplifier }: { job: Job; amplifier: JobAmplifier }) {
  const { id, name } = amplifier;
  const used = outputsUsed(job, id);
  return (
    <section className="amplifier-group" aria-label={name}>
      <Part
        part={`amplifier ${id}`}
        title={name}
        detail={`${used} of ${amplifier.channelCount} channels used`}
      >
        <AmplifierForm
          amplifier={amplifier}
          used={used}
          onChange={(next) => editJob((now) => ({ ...now, amplifiers: replaced(now.amplifiers, next) }))}
        />
        <PartActs
          name="this amplifier"
          onCopy={() => addAmplifier((now) => copyOfAmplifier(now, amplifier))}
          onRemove={
            used > 0
              ? null
              : () =>
                  editJob((now) => ({ ...now, amplifiers: now.amplifiers.filter((one) => one.id !== id) }))
          }
          whyNot={used > 0 ? 'It can be removed once no channel stands on it.' : null}
        />
      </Part>
      <PartWarnings sentences={chainWarnings(job).filter((one) => one.amplifierId === id)} />
      {job.channels
        .filter((channel) => channel.amplifierId === id)
        .map((channel) => (
          <ChannelPart key={channel.id} job={job} channel={channel} />
        ))}
      <button
        type="button"
        className="act"
        disabled={outputsFree(job, id) < 1}
        onClick={() => addChannel((now) => newChannel(now, id))}
      >
        Add a channel<span className="unseen"> to {name}</span>
      </button>
    </section>
  );
}

/** The chain as the data sheets state it, from radio to drivers. Every change is kept at once. */
export function ChainForm({ job }: { job: Job }) {
  return (
    <section className="sheet chain" aria-labelledby={CHAIN_TITLE}>
      <h2 id={CHAIN_TITLE} tabIndex={-1}>
        The chain
      </h2>
      <div className="chain-sides">
        <ChainDrawing job={job} />
        <div className="chain-parts">
          <div className="fields">
            <TextField
              label="Vehicle"
              value={job.vehicle}
              mayBeEmpty
              onChange={(vehicle) => editJob((now) => ({ ...now, vehicle }))}
            />
            <MaybeNumberField
              label="Supply found at the amplifiers, V"
              value={job.supplyVolts}
              above={0}
              onChange={(supplyVolts) => editJob((now) => ({ ...now, supplyVolts }))}
            />
          </div>
          <SourceForm job={job} />
          <ConverterForm job={job} />
          {job.amplifiers.map((amplifier) => (
            <AmplifierPart key={amplifier.id} job={job} amplifier={amplifier} />
          ))}
          <button type="button" className="act" onClick={() => addAmplifier(newAmplifier)}>
            Add an amplifier
          </button>
        </div>
      </div>
    </section>
  );
}
