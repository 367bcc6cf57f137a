import { useLayoutEffect, useRef } from 'react';
import { StationHelp } from '../parts/StationHelp.tsx';
import { type InputLead, inputInstruction } from './input-lead.ts';

/** What to do now. Takes the focus that is lost when what was pressed makes way for the next part. */
function LeadInstruction({ lead, inVolts }: { lead: InputLead; inVolts: boolean }) {
  const words = useRef<HTMLParagraphElement>(null);
  const before = useRef(lead);
  useLayoutEffect(() => {
    const isNext = before.current !== lead;
    before.current = lead;
    if (isNext && document.activeElement === document.body) words.current?.focus();
  }, [lead]);
  return (
    <p className="do" ref={words} tabIndex={-1}>
      {inputInstruction(lead, inVolts)}
    </p>
  );
}

export function InputHead({ lead, inVolts }: { lead: InputLead; inVolts: boolean }) {
  return (
    <div className="input-top">
      <div className="input-head">
        <h1>Input</h1>
        <StationHelp
          does="Finds out whether this input passes on what it is given, and what its level is worth in volts or in sound pressure."
          needs="You need a steady tone and a multimeter once, the stepped tone of the tone set for the honesty check, and for a microphone its calibration file."
        />
      </div>
      <LeadInstruction lead={lead} inVolts={inVolts} />
    </div>
  );
}
