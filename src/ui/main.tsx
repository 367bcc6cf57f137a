import './session/without-eval.ts';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import '@fontsource/atkinson-hyperlegible-next/latin-400.css';
import '@fontsource/atkinson-hyperlegible-next/latin-700.css';
import '@fontsource/atkinson-hyperlegible-mono/latin-400.css';
import '@fontsource/atkinson-hyperlegible-mono/latin-700.css';
import './look/tokens.css';
import './look/page.css';
import './look/parts.css';
import demoJob from '../../shared/examples/hatchback.job.json';
import { soundEngine } from '../audio/engine/sound-engine.ts';
import { App } from './App.tsx';
import { Fallen } from './Fallen.tsx';
import { readRigAddress } from './route/rig-address.ts';
import { parseRoute, settle } from './route/route.ts';
import { beginJobs } from './session/job-session.ts';
import { chosenSource } from './session/listening.ts';
import { practiseFaults, provideRig, rigTrouble } from './session/rig-session.ts';

/** `/?rig=demo` opens the demo job on the practice rig; no permission is needed for that. */
const { isDemo: onDemoRig, faults, trouble, pace } = readRigAddress(location.search);

provideRig(pace);
void beginJobs(onDemoRig ? JSON.stringify(demoJob) : null);
if (onDemoRig) {
  practiseFaults(faults);
  rigTrouble.set(trouble);
  chosenSource.set({ kind: 'rig' });
  void soundEngine.start({ kind: 'rig' });
  if (parseRoute(location.hash) === null) settle({ station: 'gain', channelId: 'front-left' });
}

const root = document.getElementById('app');
if (root === null) throw new Error('The page has no place for the app.');
createRoot(root).render(
  <StrictMode>
    <Fallen>
      <App />
    </Fallen>
  </StrictMode>,
);
