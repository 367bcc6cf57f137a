import type { ReactNode } from 'react';
import type { Box } from '../../../../job/drawing/circuit-layout.ts';
import { openPart, type PartName } from '../part-name.ts';

/** One part of the drawing; pressing it opens its form. */
export function PartLink({
  part,
  box,
  spoken,
  isWrong = false,
  outline = 'box',
  children,
}: {
  part: PartName;
  box: Box;
  spoken: string;
  isWrong?: boolean;
  /** A line above a part that stands inside another; dashes for one that is not there. */
  outline?: 'box' | 'line' | 'dashes';
  children: ReactNode;
}) {
  return (
    // biome-ignore lint/a11y/useSemanticElements: SVG has no button of its own.
    <g
      role="button"
      tabIndex={0}
      className="drawn"
      aria-label={isWrong ? `${spoken}, needs attention` : spoken}
      onClick={() => openPart(part)}
      onKeyDown={(event) => {
        if (event.key !== 'Enter' && event.key !== ' ') return;
        event.preventDefault();
        openPart(part);
      }}
    >
      <rect className={`outline ${outline}`} {...box} rx="10" />
      {outline === 'line' && <path className="rule" d={`M${box.x} ${box.y}h${box.width}`} />}
      {children}
      {isWrong && (
        <text className="cross" x={box.x + box.width - 10} y={box.y + 22} textAnchor="end">
          ✕
        </text>
      )}
    </g>
  );
}
