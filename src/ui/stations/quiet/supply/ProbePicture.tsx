import type { SupplyStep } from '../../../../procedure/supply/supply.ts';

interface Spot {
  x: number;
  y: number;
}

const BATTERY_PLUS: Spot = { x: 84, y: 40 };
const BATTERY_MINUS: Spot = { x: 84, y: 110 };
const AMPLIFIER_PLUS: Spot = { x: 236, y: 40 };
const AMPLIFIER_GROUND: Spot = { x: 236, y: 110 };
const METER: Spot = { x: 160, y: 75 };

/** Where red and black go. */
const LEADS: Partial<Record<SupplyStep, { red: Spot; black: Spot; words: string }>> = {
  'ground-leg': {
    red: AMPLIFIER_GROUND,
    black: BATTERY_MINUS,
    words: 'red on the amplifier’s ground terminal, black on the battery’s minus post',
  },
  amplifier: {
    red: AMPLIFIER_PLUS,
    black: AMPLIFIER_GROUND,
    words: 'red on the amplifier’s plus terminal, black on its ground terminal',
  },
  battery: {
    red: BATTERY_PLUS,
    black: BATTERY_MINUS,
    words: 'red on the battery’s plus post, black on its minus post',
  },
};

function Lead({ to, name }: { to: Spot; name: 'red' | 'black' }) {
  const side = to.x < METER.x ? -1 : 1;
  return (
    <g className={`lead lead-${name}`}>
      <line x1={METER.x + side * 17} y1={METER.y} x2={to.x} y2={to.y} />
      <circle cx={to.x} cy={to.y} r="6" />
      <text x={to.x - side * 25} y={to.y + (to.y > METER.y ? 20 : -10)} textAnchor="middle">
        {name}
      </text>
    </g>
  );
}

function Circuit() {
  return (
    <g className="circuit">
      <rect x="8" y="24" width="76" height="102" rx="6" />
      <rect x="236" y="24" width="76" height="102" rx="6" />
      <path d="M84 40H236M84 110H126M194 110H236" />
      <rect className="fuse" x="98" y="34" width="22" height="12" rx="3" />
      <path className="body-metal" d="M126 110H194" />
      <text x="46" y="80" textAnchor="middle">
        battery
      </text>
      <text x="274" y="80" textAnchor="middle">
        amplifier
      </text>
      <text x="74" y="46" textAnchor="end">
        +
      </text>
      <text x="74" y="115" textAnchor="end">
        −
      </text>
      <text x="246" y="46">
        +
      </text>
      <text x="246" y="115">
        ground
      </text>
      <text x="109" y="26" textAnchor="middle">
        fuse
      </text>
      <text x="160" y="130" textAnchor="middle">
        body
      </text>
    </g>
  );
}

function Clamp() {
  return (
    <g className="clamp">
      <ellipse cx="180" cy="40" rx="9" ry="18" />
      <text x="180" y="76" textAnchor="middle">
        A clamp
      </text>
    </g>
  );
}

/** Battery, wires and amplifier, and where the meter goes now. */
export function ProbePicture({ step }: { step: SupplyStep }) {
  const leads = LEADS[step];
  const words =
    step === 'current'
      ? 'the clamp around the supply wire, between fuse and amplifier'
      : (leads?.words ?? 'nothing is left to read');
  return (
    <svg
      className="probe-picture"
      viewBox="0 0 320 144"
      role="img"
      aria-label={`Where the meter goes: ${words}`}
    >
      <Circuit />
      {step === 'current' && <Clamp />}
      {leads !== undefined && (
        <>
          <circle className="meter" cx={METER.x} cy={METER.y} r="17" />
          <text x={METER.x} y={METER.y + 6} textAnchor="middle">
            V
          </text>
          <Lead to={leads.black} name="black" />
          <Lead to={leads.red} name="red" />
        </>
      )}
    </svg>
  );
}
