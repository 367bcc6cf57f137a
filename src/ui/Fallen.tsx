import { Component, type ReactNode } from 'react';

/** Shown in place of the app when drawing it failed: what is kept is safe, and a reload goes on. */
export class Fallen extends Component<{ children: ReactNode }, { fault: string | null }> {
  override state: { fault: string | null } = { fault: null };

  static getDerivedStateFromError(error: unknown): { fault: string } {
    return { fault: error instanceof Error ? error.message : String(error) };
  }

  override render(): ReactNode {
    if (this.state.fault === null) return this.props.children;
    return (
      <main className="station" role="alert">
        <h1>The screen stopped</h1>
        <p className="do">Everything accepted is kept. Reload the page to go on.</p>
        <p className="facts">{this.state.fault}</p>
        <button type="button" className="act main big" onClick={() => location.reload()}>
          Reload
        </button>
      </main>
    );
  }
}
