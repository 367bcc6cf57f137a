import { type Box, type CircuitLayout, type DrawnCoil, driverBoxes, type Wire } from './circuit-layout.ts';

const TURNS = 4;

/** A winding between two points: half turns on one side of the wire. */
function winding({ from, to }: Wire): string {
  const isAcross = from.y === to.y;
  const length = isAcross ? to.x - from.x : to.y - from.y;
  const turn = length / TURNS;
  const arc = isAcross
    ? `a${turn / 2} ${turn / 2} 0 0 1 ${turn} 0`
    : `a${turn / 2} ${turn / 2} 0 0 0 0 ${turn}`;
  return `M${from.x} ${from.y}${arc.repeat(TURNS)}`;
}

function wires(list: readonly Wire[]): string {
  return list.map(({ from, to }) => `M${from.x} ${from.y}L${to.x} ${to.y}`).join('');
}

/** Where a coil's ohms are written: clear of the winding, inside its cell. */
function labelPlace({ from, to }: DrawnCoil): { x: number; y: number; textAnchor: 'middle' | 'end' } {
  if (from.y === to.y) return { x: (from.x + to.x) / 2, y: from.y - 11, textAnchor: 'middle' };
  return { x: from.x - 8, y: (from.y + to.y) / 2 + 5, textAnchor: 'end' };
}

const INSET = 2.5;

function DriverBox({ x, y, width, height }: Box) {
  return (
    <rect
      className="driver"
      x={x + INSET}
      y={y + INSET}
      width={width - 2 * INSET}
      height={height - 2 * INSET}
      rx="8"
    />
  );
}

/** Coils, wires and the outline of each driver, as laid out. */
export function CircuitShapes({
  layout,
  coilsEach,
  withOhms = true,
}: {
  layout: CircuitLayout;
  coilsEach: number;
  withOhms?: boolean;
}) {
  return (
    <g className="drivers">
      {driverBoxes(layout, coilsEach).map((box) => (
        <DriverBox key={`${box.x} ${box.y}`} {...box} />
      ))}
      <path d={wires(layout.wires)} />
      <path d={layout.coils.map(winding).join('')} />
      {withOhms &&
        layout.coils.map((coil) => (
          <text key={`${coil.from.x} ${coil.from.y}`} {...labelPlace(coil)}>
            {Number(coil.ohms.toPrecision(3))}
          </text>
        ))}
    </g>
  );
}
