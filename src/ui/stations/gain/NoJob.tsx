import { go } from '../../route/route.ts';

/** Without a job there is nothing to aim at. */
export function NoJob() {
  return (
    <div className="station">
      <h1>Gain</h1>
      <p className="do">A gain is set to the target of a channel, and there is no job yet that names one.</p>
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
