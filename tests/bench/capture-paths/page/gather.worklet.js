/** The worklet path as the app uses it: blocks of 1024, recycled, straight to the Worker's port. */
class Gather extends AudioWorkletProcessor {
  constructor() {
    super();
    this.free = [];
    for (let i = 0; i < 16; i++) this.free.push([new Float32Array(1024), new Float32Array(1024)]);
    this.block = this.free.pop();
    this.fill = 0;
    this.sink = null;
    this.expected = -1;
    this.emptyQuanta = 0;
    this.missedFrames = 0;
    this.starvedFrames = 0;
    this.port.onmessage = (event) => {
      this.sink = event.data.sink;
      this.sink.onmessage = (back) => this.free.push(back.data.block);
    };
  }

  process(inputs) {
    const input = inputs[0];
    const frames = input.length > 0 ? input[0].length : 128;
    if (this.expected >= 0 && currentFrame !== this.expected)
      this.missedFrames += currentFrame - this.expected;
    this.expected = currentFrame + frames;
    if (input.length === 0 || this.sink === null) {
      this.emptyQuanta++;
      return true;
    }
    const right = input.length > 1 ? input[1] : input[0];
    for (let i = 0; i < frames; i++) this.put(input[0][i], right[i]);
    return true;
  }

  put(left, right) {
    if (this.block === undefined) this.block = this.free.pop();
    if (this.block === undefined) {
      this.starvedFrames++;
      return;
    }
    this.block[0][this.fill] = left;
    this.block[1][this.fill] = right;
    if (++this.fill < 1024) return;
    const facts = {
      emptyQuanta: this.emptyQuanta,
      missedFrames: this.missedFrames,
      starvedFrames: this.starvedFrames,
    };
    this.sink.postMessage({ block: this.block, facts }, [this.block[0].buffer, this.block[1].buffer]);
    this.block = this.free.pop();
    this.fill = 0;
  }
}
registerProcessor('gather', Gather);
