import { useMemo, useSyncExternalStore } from 'react';
import type { Job } from '../../../../job/document.ts';
import { chainSentences } from '../chain-sentences.ts';
import { AmplifierShapes } from './AmplifierShapes.tsx';
import { chainLayout } from './chain-layout.ts';
import './drawing.css';
import { SourceShapes } from './SourceShapes.tsx';

/** Paper widths, px: what a sheet leaves on the narrowest phone, and beside the forms. */
const NARROW = 296;
const WIDE = 420;

const wideScreen = window.matchMedia('(min-width: 480px)');

function useIsWide(): boolean {
  return useSyncExternalStore(
    (changed) => {
      wideScreen.addEventListener('change', changed);
      return () => wideScreen.removeEventListener('change', changed);
    },
    () => wideScreen.matches,
  );
}

/** The whole chain as it is entered, from the radio down to the last coil; each part opens its form. */
export function ChainDrawing({ job }: { job: Job }) {
  const width = useIsWide() ? WIDE : NARROW;
  const sentences = useMemo(() => chainSentences(job), [job]);
  const layout = useMemo(() => chainLayout(job, width, sentences), [job, width, sentences]);
  const { trunk } = layout;
  return (
    <figure className="chain-drawing">
      {/* biome-ignore lint/a11y/useSemanticElements: a drawing is no fieldset, and its parts are to be found one by one. */}
      <svg viewBox={`0 0 ${width} ${layout.height}`} role="group" aria-label="The chain, drawn">
        <path
          d={`M${trunk.left} ${trunk.top}V${trunk.leftBottom}M${trunk.right} ${trunk.top}V${trunk.rightBottom}`}
        />
        <SourceShapes job={job} layout={layout} sentences={sentences} />
        {layout.amplifiers.map((placed) => (
          <AmplifierShapes key={placed.amplifier.id} placed={placed} trunk={trunk} sentences={sentences} />
        ))}
        <g className="sides">
          <text x={trunk.left} y={trunk.top + 14} textAnchor="middle">
            L
          </text>
          <text x={trunk.right} y={trunk.top + 14} textAnchor="middle">
            R
          </text>
        </g>
      </svg>
      <figcaption className="small soft">Press a part to change it.</figcaption>
    </figure>
  );
}
