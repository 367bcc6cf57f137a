import type { Job } from '../../../../job/document.ts';
import { ohms, watts } from '../../../../job/format/quantity.ts';
import type { ChainSentences } from '../chain-sentences.ts';
import type { ChainLayout } from './chain-layout.ts';
import { fitted } from './fitted.ts';
import { PartLink } from './PartLink.tsx';

/** Where the two sides leave the source, as shares of the paper's width. */
const SIDES = [
  { side: 'left', at: 0.12 },
  { side: 'right', at: 0.6 },
] as const;
const PAIR = 26;

/** A resistor lying across a pair of wires; dashed and crossed out where there is none. */
function LoadResistor({ x, y, load }: { x: number; y: number; load: Job['source']['loadResistors'] }) {
  return load === null ? (
    <g className="absent">
      <path d={`M${x} ${y}h5v-6h${PAIR - 10}v12h-${PAIR - 10}v-6M${x + PAIR - 5} ${y}h5`} />
      <text x={x + PAIR + 8} y={y - 1}>
        ✕ no load
      </text>
      <text x={x + PAIR + 8} y={y + 14}>
        resistor
      </text>
    </g>
  ) : (
    <g>
      <path d={`M${x} ${y}h5v-6h${PAIR - 10}v12h-${PAIR - 10}v-6M${x + PAIR - 5} ${y}h5`} />
      <text x={x + PAIR + 8} y={y - 1}>
        {ohms(load.ohms)}
      </text>
      <text x={x + PAIR + 8} y={y + 14}>
        {watts(load.watts)}
      </text>
    </g>
  );
}

/** Two wires a side at speaker level, with what loads them; one at line level. */
function Pickup({ job, layout }: { job: Job; layout: ChainLayout }) {
  const { top, bottom } = layout.pickup;
  const { pickup, loadResistors } = job.source;
  return SIDES.map(({ side, at }) => {
    const x = Math.round(layout.width * at);
    if (pickup === 'line-level') {
      return (
        <g key={side}>
          <path d={`M${x} ${top}V${bottom}`} />
          <text x={x + 8} y={(top + bottom) / 2 + 5}>
            {side}, line level
          </text>
        </g>
      );
    }
    return (
      <g key={side}>
        <path d={`M${x} ${top}V${bottom}M${x + PAIR} ${top}V${bottom}`} />
        <text x={x + PAIR + 8} y={top + 20}>
          {side} + −
        </text>
        <LoadResistor x={x} y={top + 44} load={loadResistors} />
      </g>
    );
  });
}

/** Source unit, the way its signal is picked up, and the converter. */
export function SourceShapes({
  job,
  layout,
  sentences,
}: {
  job: Job;
  layout: ChainLayout;
  sentences: ChainSentences;
}) {
  const { source, converter, width } = layout;
  const level = job.source.pickup === 'speaker-level' ? 'speaker level' : 'line level';
  const load =
    job.source.loadResistors === null
      ? 'no load resistors'
      : `load resistors of ${ohms(job.source.loadResistors.ohms)}, ${watts(job.source.loadResistors.watts)}`;
  const knob = { x: source.x + source.width - 46, y: source.y + source.height / 2 };
  return (
    <>
      <PartLink
        part="source"
        box={source}
        spoken={`${job.source.name}: ${sentences.source}, picked up at ${level}, ${load}`}
        isWrong={sentences.isWrong('source')}
      >
        <text className="name" x={source.x + 14} y={source.y + 26}>
          {fitted(job.source.name, width - 100)}
        </text>
        <text x={source.x + 14} y={source.y + 47}>
          {sentences.source}
        </text>
        <circle cx={knob.x} cy={knob.y} r="13" />
        <path d={`M${knob.x} ${knob.y}l7 -11`} />
      </PartLink>
      <Pickup job={job} layout={layout} />
      <PartLink
        part="converter"
        box={converter}
        spoken={job.converter === null ? 'No converter' : `${job.converter.name}: ${sentences.converter}`}
        isWrong={sentences.isWrong('converter')}
        outline={job.converter === null ? 'dashes' : 'box'}
      >
        <text className="name" x={converter.x + 14} y={converter.y + 26}>
          {fitted(job.converter?.name ?? 'No converter', width - 60)}
        </text>
        {job.converter !== null && (
          <text x={converter.x + 14} y={converter.y + 47}>
            {sentences.converter}
          </text>
        )}
      </PartLink>
    </>
  );
}
