const workers = {};
const contexts = {};

function startWorker(name, message, transfer) {
  workers[name] = new Worker('./check.worker.js', { type: 'module' });
  workers[name].postMessage(message, transfer);
}

function startTrackProcessor(name, track, signal, maxBufferSize) {
  const { readable } = new MediaStreamTrackProcessor({ track, ...(maxBufferSize && { maxBufferSize }) });
  startWorker(name, { type: 'start', ...signal, readable }, [readable]);
}

async function startWorklet(name, track, settings, signal, latencyHint) {
  const context = new AudioContext({ sampleRate: settings.sampleRate, latencyHint });
  contexts[name] = context;
  await context.audioWorklet.addModule('./gather.worklet.js');
  const node = new AudioWorkletNode(context, 'gather', {
    numberOfOutputs: 0,
    channelCountMode: 'max',
    channelInterpretation: 'discrete',
  });
  const pipe = new MessageChannel();
  startWorker(name, { type: 'start', ...signal, port: pipe.port1 }, [pipe.port1]);
  node.port.postMessage({ sink: pipe.port2 }, [pipe.port2]);
  context.createMediaStreamSource(new MediaStream([track])).connect(node);
  await context.resume();
}

/** One stream, opened once; each path gets a clone of its track, so that all see the same capture. */
window.startPaths = async (signal, deviceLabel) => {
  const raw = {
    echoCancellation: false,
    noiseSuppression: false,
    autoGainControl: false,
    voiceIsolation: false,
    channelCount: { ideal: 2 },
  };
  let stream = await navigator.mediaDevices.getUserMedia({ audio: raw });
  if (deviceLabel) {
    const devices = await navigator.mediaDevices.enumerateDevices();
    const wanted = devices.find((d) => d.kind === 'audioinput' && d.label.includes(deviceLabel));
    if (!wanted) throw new Error(`no input called ${deviceLabel}: ${devices.map((d) => d.label).join('; ')}`);
    stream.getTracks()[0].stop();
    stream = await navigator.mediaDevices.getUserMedia({
      audio: { ...raw, deviceId: { exact: wanted.deviceId } },
    });
  }
  const track = stream.getAudioTracks()[0];
  const settings = track.getSettings();
  window.heldTrack = track;
  startTrackProcessor('trackProcessor', track.clone(), signal);
  startTrackProcessor('trackProcessorDeep', track.clone(), signal, 100);
  await startWorklet('workletInteractive', track.clone(), settings, signal, 'interactive');
  await startWorklet('workletPlayback', track.clone(), settings, signal, 'playback');
  return { settings, userAgent: navigator.userAgent };
};

function askWorker(worker) {
  return new Promise((resolve) => {
    worker.onmessage = (event) => resolve(event.data);
    worker.postMessage({ type: 'report' });
  });
}

window.reportPaths = async () => {
  const paths = {};
  for (const [name, worker] of Object.entries(workers)) {
    paths[name] = await askWorker(worker);
    const context = contexts[name];
    if (!context) continue;
    paths[name].contextSeconds = context.currentTime;
    paths[name].contextRateHz = context.sampleRate;
    paths[name].baseLatencySeconds = context.baseLatency;
    paths[name].underrunEvents = context.playbackStats?.underrunEvents ?? null;
  }
  const stats = window.heldTrack.stats;
  return { paths, track: stats ? { delivered: stats.deliveredFrames, total: stats.totalFrames } : null };
};
window.ready = true;
