/** Another job is on screen: begin where it begins, for the eye and for the keyboard. */
export function toStationTop(): void {
  window.scrollTo(0, 0);
  document.getElementById('station')?.focus({ preventScroll: true });
}
