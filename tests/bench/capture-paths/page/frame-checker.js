/**
 * Tells, frame by frame, what a capture path did to a signal that numbers its
 * own frames: the right channel holds (n - period/2) / 8192, so that its
 * value says which frame of the loop this is; the left one holds a 997 Hz sine,
 * checked by its own recurrence x[n] = 2 cos(w) x[n-1] - x[n-2] as an
 * independent witness.
 */
export class FrameChecker {
  constructor(periodFrames, rateHz, toneHz) {
    this.periodFrames = periodFrames;
    this.rateHz = rateHz;
    this.twoCos = 2 * Math.cos((2 * Math.PI * toneHz) / rateHz);
    this.last = -1;
    this.x1 = 0;
    this.x2 = 0;
    this.history = 0;
    this.zeroRun = 0;
    this.frames = 0;
    this.counts = { lost: 0, duplicated: 0, zeroed: 0, breaks: 0, toneBreaks: 0, corrupted: 0 };
    this.settled = { lost: 0, duplicated: 0, zeroed: 0, breaks: 0, toneBreaks: 0, corrupted: 0 };
    this.events = [];
    this.worstToneResidual = 0;
  }

  add(kind, frames) {
    this.counts[kind] += frames;
    // Both paths are known to stumble as they start; what a user meets is what comes after.
    if (this.frames > SETTLE_SECONDS * this.rateHz) this.settled[kind] += frames;
  }

  push(left, right) {
    for (let i = 0; i < left.length; i++) this.frame(left[i], right[i]);
  }

  frame(left, right) {
    this.frames++;
    if (left === 0 && right === 0) {
      this.zeroRun++;
      if (this.last >= 0) this.add('zeroed', 1);
      this.history = 0;
      return;
    }
    const position = right * 8192 + this.periodFrames / 2;
    const index = Math.round(position);
    if (Math.abs(position - index) > 0.4) this.add('corrupted', 1);
    if (this.last >= 0) this.step(index);
    this.zeroRun = 0;
    this.last = index;
    this.tone(left);
  }

  step(index) {
    const jump = (index - this.last - 1 + 2 * this.periodFrames) % this.periodFrames;
    if (jump === 0 && this.zeroRun === 0) return;
    const lost = jump <= this.periodFrames / 2 ? jump : 0;
    const duplicated = jump > this.periodFrames / 2 ? this.periodFrames - jump : 0;
    this.add('lost', lost);
    this.add('duplicated', duplicated);
    this.add('breaks', 1);
    if (this.events.length < 2000)
      this.events.push({ atSeconds: this.frames / this.rateHz, zeroed: this.zeroRun, lost, duplicated });
  }

  tone(left) {
    if (this.history >= 2) {
      const residual = Math.abs(left - this.twoCos * this.x1 + this.x2);
      // 16-bit steps leave 4/65536 at most; a jump of one frame at 997 Hz leaves 2e-2 on average.
      if (residual > 3e-4) {
        this.add('toneBreaks', 1);
        this.history = 0;
      } else if (residual > this.worstToneResidual) this.worstToneResidual = residual;
    }
    this.history++;
    this.x2 = this.x1;
    this.x1 = left;
  }

  report() {
    return {
      frames: this.frames,
      counts: this.counts,
      afterSettling: this.settled,
      settleSeconds: SETTLE_SECONDS,
      worstToneResidual: this.worstToneResidual,
      events: this.events,
    };
  }
}

const SETTLE_SECONDS = 2;
