import type { ChainSentences } from '../chain-sentences.ts';
import { CircuitShapes } from './CircuitShapes.tsx';
import { COLUMNS, type PlacedAmplifier, type PlacedChannel, SUM_APART, type Trunk } from './chain-layout.ts';
import { fitted } from './fitted.ts';
import { PartLink } from './PartLink.tsx';

const SUM_X = 58;
/** Below this the ohms of single coils can no longer be read, and the form shows them. */
const LEGIBLE = 0.75;

/** From the wires along the side to the amplifier's channel, summed where both feed it. */
function Feed({ placed, trunk }: { placed: PlacedChannel; trunk: Trunk }) {
  const { channel, wireY } = placed;
  if (channel.fedBy !== 'both') {
    const x = channel.fedBy === 'left' ? trunk.left : trunk.right;
    return (
      <>
        <path d={`M${x} ${wireY}H${COLUMNS.triangle}`} />
        <circle className="terminal" cx={x} cy={wireY} r="4" />
      </>
    );
  }
  return (
    <>
      <path
        d={`M${trunk.left} ${wireY - SUM_APART}H${SUM_X}v5M${trunk.right} ${wireY + SUM_APART}H${SUM_X}v-5M${SUM_X + 8} ${wireY}H${COLUMNS.triangle}`}
      />
      <circle className="terminal" cx={trunk.left} cy={wireY - SUM_APART} r="4" />
      <circle className="terminal" cx={trunk.right} cy={wireY + SUM_APART} r="4" />
      <circle cx={SUM_X} cy={wireY} r="8" />
      <path d={`M${SUM_X - 4} ${wireY}h8M${SUM_X} ${wireY - 4}v8`} />
    </>
  );
}

/** One triangle; two for a bridged channel, the lower one turned over (a ring at its foot). */
function Stage({ placed }: { placed: PlacedChannel }) {
  const x = COLUMNS.triangle;
  const y = placed.wireY;
  if (!placed.channel.bridged) return <path className="stage" d={`M${x} ${y - 12}v24l22 -12z`} />;
  return (
    <>
      <path className="stage" d={`M${x} ${y - 16}v16l16 -8zM${x} ${y}v16l16 -8z`} />
      <circle className="stage" cx={x + 18} cy={y + 8} r="2.5" />
      <path d={`M${x + 16} ${y - 8}h6v8h4`} />
    </>
  );
}

function Drivers({ placed }: { placed: PlacedChannel }) {
  const { circuit, channel, wireY } = placed;
  if (circuit === null) return null;
  const { layout, x, y, scale } = circuit;
  const lead =
    layout.runs === 'across'
      ? `M${COLUMNS.triangle + 22} ${wireY}H${x}`
      : `M${COLUMNS.triangle + 22} ${wireY}h4V${y}H${x + layout.plus.x * scale}`;
  return (
    <>
      <path d={lead} />
      <g transform={`translate(${x} ${y}) scale(${scale})`}>
        <CircuitShapes layout={layout} coilsEach={channel.drivers.coilsEach} withOhms={scale >= LEGIBLE} />
        <circle className="terminal" cx={layout.minus.x} cy={layout.minus.y} r="3" />
      </g>
    </>
  );
}

function Channel({
  placed,
  trunk,
  sentences,
}: {
  placed: PlacedChannel;
  trunk: Trunk;
  sentences: ChainSentences;
}) {
  const { channel, box, wireY, lines } = placed;
  const [load, target] = sentences.figures(channel);
  const right = box.x + box.width - 10;
  const isWrong = sentences.isWrong(channel);
  return (
    <PartLink
      part={`channel ${channel.id}`}
      box={box}
      outline="line"
      spoken={sentences.spoken(channel)}
      isWrong={isWrong}
    >
      <text className="name" x={box.x + 14} y={box.y + 20}>
        {fitted(channel.name, box.width - 50)}
      </text>
      <Feed placed={placed} trunk={trunk} />
      <Stage placed={placed} />
      <Drivers placed={placed} />
      <text className="load" x={right} y={wireY + 1} textAnchor="end">
        {load}
      </text>
      <text className={isWrong ? 'cross' : undefined} x={right} y={wireY + 18} textAnchor="end">
        {target}
      </text>
      {lines.map((line, index) => (
        <text key={line} x={box.x + 14} y={box.y + box.height - 8 - 17 * (lines.length - 1 - index)}>
          {line}
        </text>
      ))}
    </PartLink>
  );
}

export function AmplifierShapes({
  placed,
  trunk,
  sentences,
}: {
  placed: PlacedAmplifier;
  trunk: Trunk;
  sentences: ChainSentences;
}) {
  const { amplifier, box, channels } = placed;
  return (
    <>
      <PartLink
        part={`amplifier ${amplifier.id}`}
        box={box}
        spoken={`${amplifier.name}: ${sentences.amplifier(amplifier)}`}
        isWrong={sentences.isWrong('amplifier', amplifier.id)}
      >
        <text className="name" x={box.x + 14} y={box.y + 22}>
          {fitted(amplifier.name, box.width - 50)}
        </text>
        <text x={box.x + 14} y={box.y + 41}>
          {sentences.amplifier(amplifier)}
        </text>
      </PartLink>
      {channels.map((one) => (
        <Channel key={one.channel.id} placed={one} trunk={trunk} sentences={sentences} />
      ))}
    </>
  );
}
