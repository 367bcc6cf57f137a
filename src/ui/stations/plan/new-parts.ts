/** A further amplifier or channel, begun from the last one, with an id that is still free. */
import type { Job, JobAmplifier, JobChannel } from '../../../job/document.ts';

function freeId(stem: string, taken: { id: string }[]): { id: string; number: number } {
  let number = taken.length + 1;
  while (taken.some((one) => one.id === `${stem}-${number}`)) number += 1;
  return { id: `${stem}-${number}`, number };
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

export function newChannel(job: Job): JobChannel {
  const { id, number } = freeId('channel', job.channels);
  const last = job.channels.at(-1);
  if (last === undefined) throw new Error('A job has at least one channel.');
  return { ...last, id, name: `Channel ${number}` };
}
