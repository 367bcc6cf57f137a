/** "1:07" of a number of seconds, rounded down, as a clock shows it. */
export function clockWords(seconds: number): string {
  const whole = Math.floor(seconds);
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`;
}
