import { figure } from '../figures.ts';
import { FUSE_MOST_METRES } from '../wire/fuse.ts';
import { MATERIAL_WORDS } from '../wire/material.ts';
import { sizeWords } from '../wire/trade-size.ts';
import type { WireRun } from '../wire/wire-run.ts';
import type { PowerWiring, PowerWiringPlan } from './power-wiring.ts';

type WiringWarningKind =
  | 'fuse-past-wire'
  | 'fuse-missing'
  | 'fuse-far'
  | 'fuse-under-load'
  | 'wire-under-load'
  | 'drop-past-allowed'
  | 'ground-thinner'
  | 'class-assumed';

export interface WiringWarning {
  kind: WiringWarningKind;
  /** Whether something can burn, as against merely not work well. */
  grave: boolean;
  /** One sentence: what, and what to do. */
  sentence: string;
}

type Figures = Omit<PowerWiringPlan, 'warnings'>;
type Rule = (wiring: PowerWiring, figures: Figures) => string | null;

const volts = (value: number) => `${figure(value, 2)} V`;
const amps = (value: number) => `${figure(value, 3)} A`;

function wireWords(run: WireRun): string {
  return `${sizeWords(run.areaMm2)} in ${MATERIAL_WORDS[run.material]}`;
}

const fusePastWire: Rule = ({ positive, fuseAmps }, { fuse }) => {
  if (positive === null || fuseAmps === null) return null;
  if (fuse.wireAmps === null) {
    return `The supply wire of ${wireWords(positive)} is too thin for any fuse in the list: take a thicker wire.`;
  }
  if (fuseAmps <= fuse.wireAmps) return null;
  return `The fuse of ${amps(fuseAmps)} does not protect ${wireWords(positive)}, which burns before it blows: ${amps(fuse.wireAmps)} is the largest for this wire.`;
};

const fuseMissing: Rule = ({ positive, fuseAmps }, { fuse }) => {
  if (positive === null || fuseAmps !== null) return null;
  const most = fuse.wireAmps === null ? '' : `, of ${amps(fuse.wireAmps)} at most`;
  return `No fuse is noted for the supply wire: fit one close to the battery${most}.`;
};

const fuseFar: Rule = ({ positive, fuseMetresFromBattery: metres }) => {
  if (positive === null || metres === null || metres <= FUSE_MOST_METRES) return null;
  return `The fuse stands ${figure(metres, 2)} m from the battery and the wire up to it is not protected: bring it within ${FUSE_MOST_METRES} m (common practice).`;
};

const fuseUnderLoad: Rule = ({ fuseAmps }, { fullSine }) => {
  if (fuseAmps === null || fuseAmps >= fullSine.amperes) return null;
  return `The fuse of ${amps(fuseAmps)} is under the ${amps(fullSine.amperes)} of a full sine: it holds music, but may blow under a test tone at full level.`;
};

const wireUnderLoad: Rule = ({ positive }, { fuse }) => {
  if (positive === null || fuse.wireAmps === null || fuse.loadAmps === null) return null;
  if (fuse.wireAmps >= fuse.loadAmps) return null;
  return `${wireWords(positive)} allows a fuse of ${amps(fuse.wireAmps)} at most and the amplifier needs ${amps(fuse.loadAmps)}: take a thicker supply wire.`;
};

const dropPastAllowed: Rule = ({ allowedDropVolts }, { dropVolts, advised }) => {
  if (dropVolts === null || dropVolts <= allowedDropVolts) return null;
  const names = [advised.awg?.name, advised.metric?.name].filter((name) => name !== undefined);
  const cure = names.length === 0 ? 'shorten the way' : `take ${names.join(' or ')}`;
  return `The wires alone drop ${volts(dropVolts)} at a full sine, more than the ${volts(allowedDropVolts)} allowed: ${cure}.`;
};

const groundThinner: Rule = ({ positive, ground }) => {
  if (positive === null || ground === null) return null;
  const conductance = ({ areaMm2, material }: WireRun) => areaMm2 * (material === 'copper' ? 1 : 0.629);
  if (conductance(ground) >= conductance(positive) * 0.99) return null;
  return `The ground wire, ${wireWords(ground)}, is less than the supply wire, ${wireWords(positive)}, and carries the same current: make it at least as thick (common practice).`;
};

const classAssumed: Rule = ({ stage }) =>
  stage === null
    ? "The amplifier's class is not noted: class AB is taken, which draws more than class D."
    : null;

const RULES: readonly { kind: WiringWarningKind; grave: boolean; rule: Rule }[] = [
  { kind: 'fuse-past-wire', grave: true, rule: fusePastWire },
  { kind: 'fuse-missing', grave: true, rule: fuseMissing },
  { kind: 'fuse-far', grave: true, rule: fuseFar },
  { kind: 'wire-under-load', grave: true, rule: wireUnderLoad },
  { kind: 'drop-past-allowed', grave: false, rule: dropPastAllowed },
  { kind: 'ground-thinner', grave: false, rule: groundThinner },
  { kind: 'fuse-under-load', grave: false, rule: fuseUnderLoad },
  { kind: 'class-assumed', grave: false, rule: classAssumed },
];

/** Every warning that applies, those by which something can burn first. */
export function wiringWarnings(wiring: PowerWiring, figures: Figures): WiringWarning[] {
  return RULES.flatMap(({ kind, grave, rule }) => {
    const sentence = rule(wiring, figures);
    return sentence === null ? [] : [{ kind, grave, sentence }];
  });
}
