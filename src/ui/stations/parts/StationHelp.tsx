/** What the station does and what it needs: two sentences, folded away once known. */
export function StationHelp({ does, needs }: { does: string; needs: string }) {
  return (
    <details className="station-help">
      <summary>What this does</summary>
      <p>
        {does} {needs}
      </p>
    </details>
  );
}
