import { useEffect } from 'react';
import type { NoisePurpose } from '../../../../procedure/noise/noise.ts';
import { useObservable } from '../../../live/observable.ts';
import { beginNoiseAnew } from '../../../session/noise-session.ts';
import { rigConfig, rigControls, setRigControls, silenceRig } from '../../../session/rig-session.ts';

/** On the practice rig engine, lead and source follow what is to be recorded; on leaving they go back. */
export function useRigHand(onRig: boolean, channelId: string | null, purpose: NoisePurpose | null): void {
  const config = useObservable(rigConfig);
  useEffect(() => {
    if (!onRig) return;
    const { probe } = rigControls.get();
    return () => setRigControls({ probe, engine: undefined, muted: [] });
  }, [onRig]);
  useEffect(() => {
    if (!onRig) return;
    silenceRig();
    return rigConfig.subscribe(beginNoiseAnew);
  }, [onRig]);
  const engine = purpose?.engine ?? 'off';
  const pulled = purpose?.lead === 'unplugged';
  useEffect(() => {
    if (!onRig) return;
    const muted = pulled ? config.channels.map(({ id }) => id) : [];
    setRigControls({ probe: channelId ?? 'cabin', engine, muted });
  }, [onRig, config, channelId, engine, pulled]);
}
