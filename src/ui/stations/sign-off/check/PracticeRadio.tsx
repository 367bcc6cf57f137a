import type { RunSound } from '../../../../dsp/tones/run-sound.ts';
import type { Job } from '../../../../job/document.ts';
import { useRadioOnRig } from './use-radio-on-rig.ts';

/** The practice rig's radio, which plays the run track by itself, and where it is recorded. */
export function PracticeRadio({ job, run, point }: { job: Job; run: RunSound; point: string }) {
  const fault = useRadioOnRig(run, point);
  const channel = job.channels.find(({ id }) => id === point);
  const where =
    channel === undefined
      ? 'the microphone stands in the cabin'
      : `the lead is at the terminals of ${channel.name.toLowerCase()}`;
  return (
    <>
      <p className="small soft">
        Practice: the rig’s radio plays by itself, at the volume that it stands at; {where}.
      </p>
      {fault !== null && (
        <p role="alert" className="wrong">
          {fault}
        </p>
      )}
    </>
  );
}
