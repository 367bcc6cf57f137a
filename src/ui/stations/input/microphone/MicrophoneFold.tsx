import { useObservable } from '../../../live/observable.ts';
import { microphone, soundScaleOfInput } from '../../../session/microphone.ts';
import { Fold } from '../Fold.tsx';
import { CalibratorPart } from './CalibratorPart.tsx';
import { FilePart } from './FilePart.tsx';
import './microphone.css';
import { soundScaleWords } from './sound-scale-words.ts';

/** What is known of the microphone on this input: its calibration file, and its level in sound pressure. */
export function MicrophoneFold({ listening, onRig }: { listening: boolean; onRig: boolean }) {
  const file = useObservable(microphone.known)?.file ?? null;
  const scale = useObservable(soundScaleOfInput.known)?.scale ?? null;
  const stands = [
    file === null ? 'no calibration file' : file.name,
    scale === null
      ? 'no sound level yet'
      : `full scale ${soundScaleWords(scale.splAtFullScaleDb, scale.uncertaintyDb)}`,
  ].join(' · ');
  return (
    <Fold
      title="Microphone"
      stands={listening ? stands : 'its calibration file and sound level'}
      open={false}
    >
      <p className="small soft">
        Only where a microphone is on this input. What is known of it is kept with this device.
      </p>
      <FilePart file={file} listening={listening} onRig={onRig} />
      <CalibratorPart scale={scale} listening={listening} onRig={onRig} />
    </Fold>
  );
}
