import { MarkSign } from '../../marks/MarkSign.tsx';
import { MARK_SIGNS, MARK_WORDS, type Mark } from '../../marks/mark.ts';
import './channel-chooser.css';

export interface ChannelChoice {
  id: string;
  name: string;
  mark: Mark;
  figure: string;
}

/** All channels of the job with how far each has come: plates on a wide screen, one list on a phone. */
export function ChannelChooser({
  choices,
  current,
  onChoose,
}: {
  choices: ChannelChoice[];
  current: string;
  onChoose: (channelId: string) => void;
}) {
  return (
    <div className="channel-chooser">
      <label className="channel-list">
        <span className="unseen">Channel</span>
        <select value={current} onChange={(event) => onChoose(event.target.value)}>
          {choices.map((choice) => (
            <option key={choice.id} value={choice.id}>
              {MARK_SIGNS[choice.mark]} {choice.name}
            </option>
          ))}
        </select>
      </label>
      <fieldset className="channel-plates" aria-label="Channels">
        {choices.map((choice) => (
          <button
            type="button"
            key={choice.id}
            aria-pressed={choice.id === current}
            aria-label={`${choice.name}: ${MARK_WORDS[choice.mark]}, ${choice.figure}`}
            onClick={() => onChoose(choice.id)}
          >
            <MarkSign mark={choice.mark} />
            <b>{choice.name}</b>
            <span>{choice.figure}</span>
          </button>
        ))}
      </fieldset>
    </div>
  );
}
