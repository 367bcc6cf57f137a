import { NOT_YET, STATION_NAMES, type StationId } from '../../path/stations.ts';

/** A station that this version does not have: it says so, and how to get by without it. */
export function NotYetStation({ station }: { station: StationId }) {
  const words = NOT_YET[station];
  return (
    <div className="station">
      <h1>
        {STATION_NAMES[station]} <small>not in this version</small>
      </h1>
      {words !== undefined && (
        <>
          <p className="do">{words.question}</p>
          <p className="note">{words.meanwhile}</p>
        </>
      )}
    </div>
  );
}
