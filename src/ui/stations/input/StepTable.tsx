import { fixed } from '../../../job/format/number.ts';
import type { InputState } from '../../../procedure/input/input.ts';

/** Each step as it was played and as it came back. */
export function StepTable({ state }: { state: InputState }) {
  if (state.figures === null) return null;
  const { steps, stepErrorsDb } = state.figures;
  return (
    <table className="steps-table small">
      <caption className="unseen">Steps played and read</caption>
      <thead>
        <tr>
          <th scope="col">played, dBFS</th>
          <th scope="col">read, dBFS</th>
          <th scope="col">step off by, dB</th>
        </tr>
      </thead>
      <tbody>
        {steps.map((step, index) => (
          <tr key={step.askedDbfs}>
            <td>{fixed(step.askedDbfs, 0)}</td>
            <td>{fixed(step.levelDbfs, 2)}</td>
            <td>{index === 0 ? '' : fixed(stepErrorsDb[index - 1] ?? 0, 2)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
