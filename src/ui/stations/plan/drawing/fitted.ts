/** Mean width of a letter of the bold 15 px names, px; measured on the type that is bundled. */
const LETTER = 8;

/** A name cut to the room there is; its form shows it whole. */
export function fitted(name: string, room: number): string {
  const most = Math.floor(room / LETTER);
  return name.length <= most ? name : `${name.slice(0, most - 1).trimEnd()}…`;
}
