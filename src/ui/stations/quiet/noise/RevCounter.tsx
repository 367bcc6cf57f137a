import { useState } from 'react';
import type { NoiseState } from '../../../../procedure/noise/noise.ts';
import { FASTEST_RPM, SLOWEST_RPM } from '../../../../procedure/noise/noise-steps.ts';
import { MaybeNumberField } from '../../../fields/NumberField.tsx';
import { noiseSession } from '../../../session/noise-session.ts';

const LIMITS = { least: SLOWEST_RPM, most: FASTEST_RPM } as const;

/** With both speeds typed, a whine is held against the engine and not only against itself. */
export function RevCounter({ rpm }: Pick<NoiseState, 'rpm'>) {
  const isTyped = rpm.idle !== null || rpm.revved !== null;
  const [wasTyped, setWasTyped] = useState(isTyped);
  if (isTyped && !wasTyped) setWasTyped(true);
  return (
    // Emptied again it stays open: somebody is typing in it.
    <details open={wasTyped || undefined}>
      <summary>Rev counter, if there is one</summary>
      <div className="fields">
        {(['idle', 'revved'] as const).map((engine) => (
          <MaybeNumberField
            key={engine}
            label={engine === 'idle' ? 'Idling, rpm' : 'Revved, rpm'}
            value={rpm[engine]}
            {...LIMITS}
            onChange={(typed) => noiseSession.hand({ type: 'rpm', engine, rpm: typed })}
          />
        ))}
      </div>
    </details>
  );
}
