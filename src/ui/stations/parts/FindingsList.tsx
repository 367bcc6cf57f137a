import type { Finding } from '../../../procedure/procedure.ts';

/** What was found wrong, each with its figures and what to do; or that nothing was. */
export function FindingsList({
  findings,
  nothing,
}: {
  findings: readonly Finding[];
  nothing: string | null;
}) {
  return (
    <div className="findings" aria-live="polite">
      {findings.length === 0 && nothing !== null && <p className="found-nothing">{nothing}</p>}
      {findings.map((finding) => (
        <section key={finding.fault + finding.sentence} className="finding" data-fault={finding.fault}>
          <p className="wrong">{finding.sentence}</p>
          <p className="small">{finding.evidence}</p>
          <p>{finding.remedy}</p>
        </section>
      ))}
    </div>
  );
}
