import { MarkSign } from '../marks/MarkSign.tsx';
import { MARK_WORDS, type Mark } from '../marks/mark.ts';
import './path.css';
import { STATION_NAMES, type StationId } from './stations.ts';

/** One stage on the line: what it has come to, in figures, words and shape. */
export interface Plate {
  station: StationId;
  mark: Mark;
  /** Added to the name while this plate is the near one: "front left". */
  detail: string | null;
  /** Second line: "15.1 of 17.3 V", "not calibrated". */
  figure: string;
}

function spoken(plate: Plate): string {
  const name =
    plate.detail === null ? STATION_NAMES[plate.station] : `${STATION_NAMES[plate.station]}, ${plate.detail}`;
  return `${name}: ${MARK_WORDS[plate.mark]}, ${plate.figure}`;
}

/** The chain of stages, drawn as a line; it is also the way around the app. */
export function SignalPath({
  plates,
  near,
  onOpen,
}: {
  plates: Plate[];
  near: StationId;
  onOpen: (station: StationId) => void;
}) {
  return (
    <nav className="path" aria-label="Signal path">
      <ol>
        {plates.map((plate) => {
          const current = plate.station === near;
          return (
            <li key={plate.station} className={current ? 'near' : undefined}>
              <button
                type="button"
                className="plate"
                aria-current={current ? 'step' : undefined}
                aria-label={spoken(plate)}
                onClick={() => onOpen(plate.station)}
              >
                <MarkSign mark={plate.mark} />
                <b>
                  {STATION_NAMES[plate.station]}
                  {current && plate.detail !== null && <span className="detail">, {plate.detail}</span>}
                </b>
                <span className="figure">{plate.figure}</span>
              </button>
            </li>
          );
        })}
      </ol>
    </nav>
  );
}
