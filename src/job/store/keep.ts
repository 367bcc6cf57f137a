/**
 * Asks the browser not to clear what is stored when it runs short of room; call it from a press of a button.
 * `unknown` where it cannot be asked. Even `kept` is no backup: some browsers clear a site unused for a week,
 * so a finished job belongs in an exported file.
 */
export async function askToKeep(): Promise<'kept' | 'may-be-cleared' | 'unknown'> {
  const storage = globalThis.navigator?.storage;
  if (storage?.persist === undefined) return 'unknown';
  return (await storage.persist()) ? 'kept' : 'may-be-cleared';
}
