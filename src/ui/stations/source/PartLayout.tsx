import type { ReactNode } from 'react';
import type { Job } from '../../../job/document.ts';
import './source.css';

export interface PartProps {
  job: Job;
  onRig: boolean;
  /** The practice rig's controls that this part needs; elsewhere the conditions that a hand notes. */
  rig: ReactNode;
}

/** One part of the station: what the hands do, the picture, and below what is set and kept. */
export function PartLayout({
  hands,
  picture,
  below,
}: {
  hands: ReactNode;
  picture: ReactNode;
  below: ReactNode;
}) {
  return (
    <div className="source-part">
      <div className="source-hands">{hands}</div>
      <div className="source-picture">{picture}</div>
      <div className="source-below">{below}</div>
    </div>
  );
}
