/** The analysis Worker: everything between a block of samples and a reading happens here, off the page's thread. */
import { WindowAnalyser } from '../../dsp/measure/window-analyser.ts';
import type { AnalysisCommand } from '../blocks.ts';
import { AnalysisHost } from './analysis-host.ts';

const host = new AnalysisHost(
  (report, transfer = []) => self.postMessage(report, { transfer }),
  (frames, sampleRateHz) => new WindowAnalyser({ frames, sampleRateHz }),
  () => performance.now(),
);

self.onmessage = (event: MessageEvent<AnalysisCommand>) => host.obey(event.data);
