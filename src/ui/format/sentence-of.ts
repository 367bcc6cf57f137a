/** The one sentence that whatever was thrown says of itself. */
export function sentenceOf(fault: unknown): string {
  return fault instanceof Error ? fault.message : String(fault);
}
