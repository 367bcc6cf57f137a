import { type ClippingStageName, LOWER_BY_DB, type NamedClipping, type StageCheck } from './stage-check.ts';

/** Stable word of each fault; `none` is no fault. */
export const STAGE_FAULTS: Record<Exclude<ClippingStageName, 'none'>, string> = {
  amplifier: 'amplifier-past-knee',
  upstream: 'earlier-stage-clips',
  radio: 'radio-clips-early',
  converter: 'converter-clips',
  input: 'input-overload',
};

/** Which stage it is, one sentence. */
export function stageSentence({ stage }: NamedClipping): string {
  switch (stage) {
    case 'amplifier':
      return 'This amplifier clips.';
    case 'upstream':
      return 'A stage ahead of this amplifier clips: the radio or the converter.';
    case 'radio':
      return 'The radio clips.';
    case 'converter':
      return 'The converter clips.';
    case 'input':
      return 'Our own input clips.';
    case 'none':
      return 'Nothing clips here.';
  }
}

/** What to do about it, one sentence. */
export function stageRemedy({ stage, turnBackDb }: NamedClipping): string {
  switch (stage) {
    case 'amplifier':
      return turnBackDb === null
        ? 'Turn this gain back until the wave is clean, then on to the aim.'
        : `Turn this gain back by ${turnBackDb.toFixed(1)} dB from where it was found, then on to the aim.`;
    case 'upstream':
      return 'No setting of this gain helps. A third reading, at the radio’s speaker terminals, tells the two apart.';
    case 'radio':
      return 'Turn the volume down until the wave is clean, then set this gain.';
    case 'converter':
      return 'Turn the converter’s input down, or the volume, until the wave is clean, then set this gain.';
    case 'input':
      return 'Lower the input, or use a stronger divider; then look again.';
    case 'none':
      return 'Go on setting the gain.';
  }
}

function afterNaming({ named, isLeadAway }: StageCheck): string {
  if (isLeadAway) return 'Put the lead back on this channel, then go on.';
  return named?.stage === 'upstream'
    ? 'Take a third reading at the radio’s terminals, or go on.'
    : 'Read what was found, then go on.';
}

/** What to do with the hands while the check runs, one sentence. */
export function stageInstruction(check: StageCheck): string {
  switch (check.phase) {
    case 'as-found':
      return check.missing ?? 'Leave the gain as it is for a second: the first reading is taken.';
    case 'lower':
      return (
        check.missing ??
        `Turn this gain down by about ${LOWER_BY_DB} dB (up, where it is fully down already), then let it rest for a second.`
      );
    case 'radio':
      return (
        check.missing ?? 'The lead on the radio’s speaker terminals, hands still: the third reading is taken.'
      );
    case 'named':
      return afterNaming(check);
  }
}
