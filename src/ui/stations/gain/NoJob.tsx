import { go } from '../../route/route.ts';

/** Without a job a station has nothing to hold its readings against. */
export function NoJob({
  station = 'Gain',
  why = 'A gain is set to the target of a channel, and there is no job yet that names one.',
}: {
  station?: string;
  why?: string;
}) {
  return (
    <div className="station">
      <h1>{station}</h1>
      <p className="do">{why}</p>
      <div className="acts">
        <button
          type="button"
          className="act main big"
          onClick={() => go({ station: 'plan', channelId: null })}
        >
          Begin a job
        </button>
        <a className="act" href="?rig=demo">
          Practise on the rig
        </a>
      </div>
    </div>
  );
}
