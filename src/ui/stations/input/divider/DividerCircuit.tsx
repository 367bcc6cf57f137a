import { ohms } from '../../../../job/format/quantity.ts';
import type { DividerDesign } from '../../../../plan/divider/design.ts';
import type { HeadsetDesign } from '../../../../plan/divider/headset.ts';

/** A resistor lying in a wire, from x to x + 60. */
function Lying({ x, y }: { x: number; y: number }) {
  return <path d={`M${x} ${y - 9}h60v18h-60z`} />;
}

function Standing({ x, y }: { x: number; y: number }) {
  return <path d={`M${x - 9} ${y}h18v50h-18z`} />;
}

function Headset({ design }: { design: HeadsetDesign }) {
  return (
    <>
      <path d="M216 40H262M262 26V54M270 26V54M270 40H390" />
      <text x="266" y="18" textAnchor="middle">
        C
      </text>
      <path d="M330 40V65M330 115V140" />
      <Standing x={330} y={65} />
      <text x="346" y="95">
        {ohms(design.recognitionOhms)}
      </text>
      <circle cx="330" cy="40" r="4" />
      <circle cx="330" cy="140" r="4" />
    </>
  );
}

/** The divider as one would draw it on a scrap of paper. */
export function DividerCircuit({ design }: { design: DividerDesign | HeadsetDesign }) {
  const { divider } = design;
  const headset = 'recognitionOhms' in design ? design : null;
  const both = divider.legs === 2;
  const spoken = `From the amplifier’s plus terminal through ${ohms(divider.seriesOhms)} to the input, ${ohms(divider.shuntOhms)} across the input, ${both ? `and ${ohms(divider.seriesOhms)} from the input’s other side to the minus terminal` : 'minus terminal to the input’s other side'}`;
  return (
    <figure className="circuit">
      <svg viewBox="0 0 460 180" role="img" aria-label={spoken}>
        <text x="0" y="45">
          amp +
        </text>
        <text x="0" y="145">
          amp −
        </text>
        <path d="M50 40H90M150 40H216" />
        <Lying x={90} y={40} />
        <text x="120" y="24" textAnchor="middle">
          {ohms(divider.seriesOhms)}
        </text>
        {both ? (
          <>
            <path d="M50 140H90M150 140H390" />
            <Lying x={90} y={140} />
            <text x="120" y="172" textAnchor="middle">
              {ohms(divider.seriesOhms)}
            </text>
          </>
        ) : (
          <path d="M50 140H390" />
        )}
        <path d="M216 40V65M216 115V140" />
        <Standing x={216} y={65} />
        <text x="232" y="95">
          {ohms(divider.shuntOhms)}
        </text>
        <circle cx="216" cy="40" r="4" />
        <circle cx="216" cy="140" r="4" />
        {headset === null ? <path d="M216 40H390" /> : <Headset design={headset} />}
        <text x="396" y="45">
          {headset === null ? 'input' : 'mic'}
        </text>
        <text x="396" y="145">
          {headset === null ? 'return' : 'ground'}
        </text>
      </svg>
    </figure>
  );
}
