/** What is said before the step, in plain words: first what to do, then why. */
export interface Caution {
  first: string;
  why: string;
}

/** Before a tone goes through an amplifier while something is connected to it. */
export const BEFORE_A_LOUD_TONE: readonly Caution[] = [
  {
    first: 'Pull the speaker plugs, or begin with every gain fully down.',
    why: 'A test tone at full power heats voice coils within seconds and harms hearing.',
  },
  {
    first: 'Never tie a grounded input to an amplifier’s output.',
    why: 'Many outputs are bridged: neither side is ground, and it can destroy amplifier and computer. Use a floating divider, a device on its battery, or an isolating transformer.',
  },
  {
    first: 'Never feed speaker level into a line or microphone input without a divider.',
    why: 'The Input station designs one.',
  },
  {
    first: 'Do not touch bare terminals while a tone plays.',
    why: 'Amplifier output voltage can injure.',
  },
  {
    first: 'Never adjust while driving.',
    why: 'Run the engine in open air only.',
  },
];

/** Before a sweep through all frequencies goes through an amplifier with its drivers connected. */
export const BEFORE_A_SWEEP: readonly Caution[] = [
  {
    first: 'Switch every tweeter’s high-pass on before anything is swept.',
    why: 'Bass destroys a tweeter within a second; its own sweep begins two octaves under its filter, softly.',
  },
  {
    first: 'Begin low: the volume down, then up until the sweep stands clear of the noise.',
    why: 'A sweep finds every rattle and every resonance, and harms hearing where it is loud.',
  },
];

/** Before anything is wired. */
export const BEFORE_WIRING: readonly Caution[] = [
  {
    first: 'Disconnect the battery’s negative before wiring.',
    why: 'Follow the vehicle maker’s waiting time before touching connectors near airbags.',
  },
  {
    first: 'Fuse the supply close to the battery.',
    why: 'An unfused wire that chafes through burns the vehicle.',
  },
];

/** Before a multimeter's probes go to the battery and a tone loads the supply. */
export const BEFORE_SUPPLY_READINGS: readonly Caution[] = [
  {
    first: 'Take rings and bracelets off, and never bridge the battery’s posts.',
    why: 'A battery drives hundreds of amperes through anything that touches both.',
  },
  {
    first: 'Put the red lead into the meter’s volts jack, never the amperes jack.',
    why: 'The amperes jack is a short across the battery.',
  },
  {
    first: 'Play the tone for a few seconds at a time, and let coils cool between.',
    why: 'The supply is only loaded while the amplifier works, and so are the voice coils; it is also loud.',
  },
  {
    first: 'Keep the engine as it is for all readings, and run it in open air only.',
    why: 'Keep hands, hair and leads off belts and fans.',
  },
];

/** Before the engine is started for a measurement. */
export const BEFORE_THE_ENGINE_RUNS: readonly Caution[] = [
  {
    first: 'Run the engine in open air only.',
    why: 'Exhaust gas kills without being seen or smelt, in a garage with its door open as well.',
  },
  {
    first: 'Brake on, out of gear (park or neutral), nobody in front of or behind the vehicle.',
    why: 'It must not be able to move; follow the vehicle maker on starting and revving it at a standstill.',
  },
  {
    first: 'Keep hands, hair, clothes and leads away from belts, fans and hot parts.',
    why: 'A fan may start by itself.',
  },
  {
    first: 'Never measure or adjust while driving.',
    why: 'Whoever holds the engine at speed does nothing else.',
  },
];

/** Before the radio's volume is walked up with full-scale tones. */
export const BEFORE_VOLUME_STEPS: readonly Caution[] = [
  {
    first: 'Turn every gain fully down, or unplug the amplifiers’ inputs.',
    why: 'The radio goes up to its ceiling with a full-scale tone; behind an open gain that heats voice coils within seconds and harms hearing.',
  },
  {
    first: 'Unplug the factory speakers that still hang on the radio; leave the load resistors.',
    why: 'The tone at the top of the range can destroy them, and it is loud.',
  },
  {
    first: 'Never feed speaker level into a line or microphone input without a divider that floats.',
    why: 'Radio outputs are bridged too: neither wire is ground, and a grounded input can destroy radio and computer. The Input station designs a divider.',
  },
  {
    first: 'Do not touch load resistors or bare terminals while a tone plays.',
    why: 'The resistors get hot enough to burn.',
  },
  {
    first: 'Connect and disconnect with the radio off.',
    why: 'A bridged output that touches ground may not survive it; the radio maker’s instructions come first.',
  },
  {
    first: 'Only while parked.',
    why: 'Never adjust while driving.',
  },
];

/** Before an acoustic calibrator is switched on. 114 dB: `480 min / 2^((114 - 85) / 3)` is 35 s (NIOSH 98-126, references item 15). */
export const AROUND_A_CALIBRATOR: readonly Caution[] = [
  {
    first: 'Never hold a calibrator to an ear.',
    why: 'At 114 dB a whole day’s allowance of sound is used up in about 35 seconds, and in an ear canal it is louder still.',
  },
  {
    first: 'Push it on and pull it off slowly, with the adaptor that fits.',
    why: 'A sealed coupler presses on the microphone’s diaphragm; its maker’s instructions come first.',
  },
];

/** Before noise and pulses are heard by a microphone in the cabin. */
export const BEFORE_LISTENING_IN_THE_CABIN: readonly Caution[] = [
  {
    first: 'Begin with the volume down, and raise it until the noise stands clear of the cabin.',
    why: 'Noise at full volume harms hearing in a closed cabin and heats voice coils.',
  },
  {
    first: 'Switch the amplifier off before you pull or push one of its input plugs; the radio plays on.',
    why: 'A plug that moves while the amplifier is up bangs and hums through the drivers.',
  },
  {
    first: 'Vehicle parked, engine off.',
    why: 'Never adjust while driving.',
  },
  {
    first: 'Keep tweeters behind their high-pass.',
    why: 'Pulses and noise reach below what a tweeter without its filter survives.',
  },
];

export const FIGURES_NOT_PERMISSION =
  'Kneepoint gives figures, not permission: local codes, the makers’ instructions and licensed practice come first.';
