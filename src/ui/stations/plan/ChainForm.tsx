import type { Job, JobAmplifier, JobChannel } from '../../../job/document.ts';
import { recordedChannelIds } from '../../../job/recorded-channels.ts';
import { MaybeNumberField } from '../../fields/NumberField.tsx';
import { TextField } from '../../fields/TextField.tsx';
import { editJob } from '../../session/job-session.ts';
import { AmplifierForm } from './AmplifierForm.tsx';
import { ChannelForm } from './ChannelForm.tsx';
import { newAmplifier, newChannel } from './new-parts.ts';
import { SourceForm } from './SourceForm.tsx';

function replaceAt<T>(list: T[], index: number, item: T): T[] {
  return list.map((one, at) => (at === index ? item : one));
}

function setAmplifier(index: number, amplifier: JobAmplifier): void {
  editJob((job) => ({ ...job, amplifiers: replaceAt(job.amplifiers, index, amplifier) }));
}

function setChannel(index: number, channel: JobChannel): void {
  editJob((job) => ({ ...job, channels: replaceAt(job.channels, index, channel) }));
}

function Amplifiers({ job }: { job: Job }) {
  return (
    <>
      {job.amplifiers.map((amplifier, index) => (
        <details key={amplifier.id} className="part">
          <summary>
            <b>{amplifier.name}</b>
          </summary>
          <AmplifierForm
            amplifier={amplifier}
            onChange={(next) => setAmplifier(index, next)}
            onRemove={
              job.channels.some((channel) => channel.amplifierId === amplifier.id)
                ? null
                : () =>
                    editJob((now) => ({
                      ...now,
                      amplifiers: now.amplifiers.filter((one) => one.id !== amplifier.id),
                    }))
            }
          />
        </details>
      ))}
      <button
        type="button"
        className="act"
        onClick={() => editJob((now) => ({ ...now, amplifiers: [...now.amplifiers, newAmplifier(now)] }))}
      >
        Add an amplifier
      </button>
    </>
  );
}

function Channels({ job }: { job: Job }) {
  return (
    <>
      {job.channels.map((channel, index) => (
        <details key={channel.id} className="part">
          <summary>
            <b>{channel.name}</b>
          </summary>
          <ChannelForm
            channel={channel}
            amplifiers={job.amplifiers}
            onChange={(next) => setChannel(index, next)}
            onRemove={
              job.channels.length === 1 || recordedChannelIds(job).has(channel.id)
                ? null
                : () =>
                    editJob((now) => ({
                      ...now,
                      channels: now.channels.filter((one) => one.id !== channel.id),
                    }))
            }
          />
        </details>
      ))}
      <button
        type="button"
        className="act"
        onClick={() => editJob((now) => ({ ...now, channels: [...now.channels, newChannel(now)] }))}
      >
        Add a channel
      </button>
    </>
  );
}

/** The chain as the data sheets state it, from radio to drivers. Every change is kept at once. */
export function ChainForm({ job }: { job: Job }) {
  return (
    <section className="sheet chain" aria-labelledby="chain-title">
      <h2 id="chain-title">The chain</h2>
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
      <h3>Amplifiers</h3>
      <Amplifiers job={job} />
      <h3>Channels</h3>
      <Channels job={job} />
    </section>
  );
}
