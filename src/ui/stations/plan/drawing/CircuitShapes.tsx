import { type Box, type CircuitLayout, driverBoxes } from '../../../../job/drawing/circuit-layout.ts';
import { ohmsPlace, windingPath, wiresPath } from '../../../../job/drawing/circuit-paths.ts';

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
      <path d={wiresPath(layout.wires)} />
      <path d={layout.coils.map(windingPath).join('')} />
      {withOhms &&
        layout.coils.map((coil) => (
          <text key={`${coil.from.x} ${coil.from.y}`} {...ohmsPlace(coil)}>
            {Number(coil.ohms.toPrecision(3))}
          </text>
        ))}
    </g>
  );
}
