import { type ReactNode, useId } from 'react';

/**
 * A part of the station that is folded away until it is needed. Its one line says how things stand while it is shut.
 *
 * @param open what it should be now; whoever opens or shuts it by hand is left alone until this changes
 */
export function Fold({
  title,
  stands,
  open,
  children,
}: {
  title: string;
  stands: string;
  open: boolean;
  children: ReactNode;
}) {
  const titleId = useId();
  return (
    <section className="sheet fold" aria-labelledby={titleId}>
      <details open={open}>
        <summary>
          <span>
            <h2 id={titleId}>{title}</h2>
            <span className="small soft stands">{stands}</span>
          </span>
        </summary>
        <div className="fold-body">{children}</div>
      </details>
    </section>
  );
}
