import { useMemo, useState } from 'react';
import type { Job } from '../../../job/document.ts';
import { LineChart } from '../../chart/LineChart.tsx';
import { ChoiceField } from '../../fields/ChoiceField.tsx';
import { overlaysOf } from './overlays.ts';

/** One picture at a time, of what was recorded at both visits. */
export function OverlayPictures({ baseline, job }: { baseline: Job; job: Job }) {
  const overlays = useMemo(() => overlaysOf(baseline, job), [baseline, job]);
  const [chosenId, setChosenId] = useState<string | null>(null);
  const overlay = overlays.find(({ id }) => id === chosenId) ?? overlays[0];
  if (overlay === undefined) return null;
  return (
    <section className="stack" aria-label="Pictures then and now">
      <ChoiceField
        label="Picture"
        value={overlay.id}
        choices={overlays.map(({ id, title }) => ({ value: id, words: title }))}
        onChange={setChosenId}
      />
      <LineChart view={overlay.view} words={overlay.words} />
    </section>
  );
}
