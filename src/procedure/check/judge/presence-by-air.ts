import type { CheckTask } from '../check.ts';
import { type Complaint, type Judgement, nothingSaid } from '../complaint.ts';
import type { HeardSine, PointFacts } from '../facts.ts';
import { servedNames } from '../words.ts';
import { type About, fellSilent } from './lost-tones.ts';

/** By air, each group of channels that plays together: what none, or not every one, of its tones comes out of. */
export function presenceByAir(task: CheckTask, { sines }: PointFacts): Judgement {
  const judgement = nothingSaid();
  const groups = new Map<string, HeardSine[]>();
  for (const sine of sines) {
    const key = `${sine.part.serves.join('+')}|${sine.part.channels}`;
    groups.set(key, [...(groups.get(key) ?? []), sine]);
  }
  for (const group of groups.values()) {
    const { serves, channels } = group[0]!.part;
    const about = { channel: serves.join('+') || channels, name: servedNames(task, serves, channels) };
    if (group.every(({ levelDbfs }) => levelDbfs === null)) {
      judgement.complaints.push(deadByAir(about, group, serves.length > 1));
      continue;
    }
    const unheard = group.filter(({ levelDbfs }) => levelDbfs === null);
    // A soft tone may drown in the cabin's noise; a louder one, at the same place, cannot.
    const gone = unheard.filter(({ part }) =>
      group.some(({ levelDbfs, part: other }) => levelDbfs !== null && other.levelDbfs <= part.levelDbfs),
    );
    if (gone.length > 0) {
      judgement.complaints.push(
        fellSilent(
          about,
          gone.map(({ read }) => read),
        ),
      );
    }
    for (const { read } of unheard.filter((one) => !gone.includes(one))) {
      judgement.open.push({ read, why: 'It does not stand out of the noise that the microphone hears.' });
    }
  }
  return judgement;
}

function deadByAir({ channel, name }: About, group: readonly HeardSine[], isMany: boolean): Complaint {
  return {
    fault: 'dead-channel',
    channel,
    sentence: `${name} ${isMany ? 'play' : 'plays'} nothing that a microphone hears.`,
    evidence: 'None of the tones for it stands out of the noise, while others were heard.',
    remedy: 'Look at its plugs and inputs, and record at its terminals.',
    read: group.map(({ read }) => read),
  };
}
