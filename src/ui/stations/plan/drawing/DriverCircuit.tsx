import { circuitLayout } from '../../../../job/drawing/circuit-layout.ts';
import { ohms } from '../../../../job/format/quantity.ts';
import { loadWords } from '../../../../job/load-words.ts';
import type { DriverGroup } from '../../../../plan/chain.ts';
import { driverGroupNetwork } from '../../../../plan/load/driver-group.ts';
import { CircuitShapes } from './CircuitShapes.tsx';

/** Room around the network for its terminals. */
const SIDE = 26;
const OVER = 6;

/** One channel's coils as one would draw them on a scrap of paper, with what they come to. */
export function DriverCircuit({ drivers, netOhms }: { drivers: DriverGroup; netOhms: number }) {
  const layout = circuitLayout(driverGroupNetwork(drivers));
  const { plus, minus, runs } = layout;
  const isAcross = runs === 'across';
  const [padX, padY] = isAcross ? [SIDE, OVER] : [OVER, SIDE];
  const [width, height] = [layout.width + 2 * padX, layout.height + 2 * padY];
  return (
    <figure className="driver-circuit">
      <svg
        viewBox={`0 0 ${width} ${height}`}
        style={{ width: `${width}px` }}
        role="img"
        aria-label={`Wiring drawn: ${loadWords(drivers, netOhms)}`}
      >
        <g transform={`translate(${padX} ${padY})`}>
          <CircuitShapes layout={layout} coilsEach={drivers.coilsEach} />
          <circle className="terminal" cx={plus.x} cy={plus.y} r="4" />
          <circle className="terminal" cx={minus.x} cy={minus.y} r="4" />
          <text
            x={isAcross ? -10 : plus.x}
            y={isAcross ? plus.y + 5 : -9}
            textAnchor={isAcross ? 'end' : 'middle'}
          >
            +
          </text>
          <text
            x={isAcross ? layout.width + 10 : minus.x}
            y={isAcross ? minus.y + 5 : layout.height + 20}
            textAnchor={isAcross ? 'start' : 'middle'}
          >
            −
          </text>
        </g>
      </svg>
      <figcaption>
        Together <b>{ohms(netOhms)}</b>
        <span className="small soft"> · dashed: one driver</span>
      </figcaption>
    </figure>
  );
}
