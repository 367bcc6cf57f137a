import { signed } from '../../../job/format/number.ts';
import type { CrossoverState, Handover } from '../../../procedure/crossover/crossover.ts';
import { SUM_ASSUMES } from '../../../procedure/crossover/sum.ts';
import { cornerFigure } from '../../session/crossover-progress.ts';

function words({ deepestDb, deepestHz, highestDb, highestHz }: Handover): string {
  return `lowest ${signed(deepestDb, 1)} dB at ${cornerFigure(deepestHz)} Hz, highest ${signed(highestDb, 1)} dB at ${cornerFigure(highestHz)} Hz`;
}

/** What the channel on the bench adds up to with each neighbour that was swept. */
export function SumList({ state }: { state: CrossoverState }) {
  const nameOf = (id: string) => state.task.channels.find((channel) => channel.id === id)?.name ?? id;
  return (
    <section className="sheet" aria-labelledby="sum-title">
      <h2 id="sum-title">Together with its neighbours</h2>
      {state.sums.length === 0 ? (
        <p className="soft">
          Once a channel whose band meets this one’s has been swept as well, their sum stands here.
        </p>
      ) : (
        <ul className="plainlist">
          {state.sums.map((sum) => {
            const other = sum.lowerId === state.channelId ? sum.upperId : sum.lowerId;
            return (
              <li key={other}>
                <p>
                  <b>
                    {nameOf(other)}, around {cornerFigure(sum.meetHz)} Hz
                  </b>
                  <br />
                  As wired: {words(sum.asWired)}.
                  <br />
                  <span className="soft">One turned over: {words(sum.turned)}.</span>
                </p>
              </li>
            );
          })}
        </ul>
      )}
      <p className="small soft">{SUM_ASSUMES} 0 dB is a handover without loss.</p>
    </section>
  );
}
