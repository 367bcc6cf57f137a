/** Parts added to a chain: figures that are plausible, under names and ids that are free. */
import type { Job, JobAmplifier, JobChannel } from '../../../job/document.ts';
import { outputsFree } from '../../../job/outputs.ts';

interface Named {
  id: string;
  name: string;
}

function freeId(stem: string, taken: readonly Named[]): { id: string; number: number } {
  let number = taken.length + 1;
  while (taken.some((one) => one.id === `${stem}-${number}`)) number += 1;
  return { id: `${stem}-${number}`, number };
}

/** "Subwoofer (2)" and so on: a copy must not be mistaken for what it was copied from. */
function copyName(name: string, taken: readonly Named[]): string {
  for (let number = 2; ; number++) {
    const wanted = `${name} (${number})`;
    if (!taken.some((one) => one.name === wanted)) return wanted;
  }
}

export function newAmplifier(job: Job): JobAmplifier {
  const { id, number } = freeId('amplifier', job.amplifiers);
  return {
    id,
    name: `Amplifier ${number}`,
    channelCount: 2,
    perChannel: { ratings: [{ loadOhms: 4, watts: 50 }], minimumLoadOhms: 2 },
    bridged: null,
    ratedSupplyVolts: 14.4,
    class: null,
    wiring: null,
  };
}

/** Ratings and wiring as the other's; its channels stay with the other. */
export function copyOfAmplifier(job: Job, amplifier: JobAmplifier): JobAmplifier {
  const { id } = freeId('amplifier', job.amplifiers);
  return { ...amplifier, id, name: copyName(amplifier.name, job.amplifiers) };
}

const OTHER_SIDE = { left: 'right', right: 'left', both: 'both' } as const;

/** One more channel of an amplifier: as its last one, for the other side; as the job's last where it has none. */
export function newChannel(job: Job, amplifierId: string): JobChannel {
  const { id, number } = freeId('channel', job.channels);
  const own = job.channels.filter((channel) => channel.amplifierId === amplifierId).at(-1);
  const model = own ?? job.channels.at(-1);
  if (model === undefined) throw new Error('A job has at least one channel.');
  const fedBy = own === undefined ? model.fedBy : OTHER_SIDE[model.fedBy];
  const bridged = model.bridged && outputsFree(job, amplifierId) >= 2;
  return { ...model, id, name: `Channel ${number}`, amplifierId, fedBy, bridged };
}

export function copyOfChannel(job: Job, channel: JobChannel): JobChannel {
  const { id } = freeId('channel', job.channels);
  return { ...channel, id, name: copyName(channel.name, job.channels) };
}
