import { importJob } from '../../session/job-session.ts';
import { toStationTop } from './to-top.ts';

/** Takes in a job from a file; what is wrong with it is said by the session. */
export function ImportJob() {
  return (
    <label className="field">
      Or take in a job file
      <input
        type="file"
        accept=".json,application/json"
        onChange={(event) => {
          const file = event.target.files?.[0];
          event.target.value = '';
          if (file !== undefined) void file.text().then(importJob).then(toStationTop);
        }}
      />
    </label>
  );
}
