/** The chain across the page: radio, pickup, converter, amplifiers, and each channel's coils as they are wired. */
import { driverBoxes } from '../../drawing/circuit-layout.ts';
import { ohmsPlace, windingPath, wiresPath } from '../../drawing/circuit-paths.ts';
import type { ChainPicture, DrawnChannel } from '../chain-picture.ts';
import type { ReportChain } from '../model.ts';
import { place } from './escape.ts';
import { drawing, label } from './svg.ts';

const WIDTH = 720;
const SOURCE = { left: 2, right: 128 } as const;
const CONVERTER = { left: 182, right: 318 } as const;
const TRUNK = { left: 338, right: 350 } as const;
const AMPLIFIER = { left: 362, right: 718 } as const;
const TRIANGLE = 386;
const COILS = { left: 424, widest: 118 } as const;
const WORDS = 556;
const HEAD = 26;
const GAP = 12;
const LEAST_ROW = 62;
const BOX_HEIGHT = 60;
/** Mean width of a letter at 12 px, px, wide system fonts counted in. */
const LETTER = 7;

interface Row {
  channel: DrawnChannel;
  y: number;
  height: number;
  scale: number;
}

interface Block {
  name: string;
  y: number;
  height: number;
  rows: Row[];
}

/** A name cut to the room there is; the tables tell it whole. */
function cut(text: string, room: number): string {
  const most = Math.floor(room / LETTER);
  return text.length <= most ? text : `${text.slice(0, most - 1).trimEnd()}…`;
}

function blocksOf({ amplifiers }: ChainPicture): Block[] {
  let y = 2;
  return amplifiers.map(({ name, channels }) => {
    const top = y;
    let at = top + HEAD;
    const rows = channels.map((channel) => {
      const scale = channel.circuit === null ? 1 : Math.min(1, COILS.widest / channel.circuit.width);
      const drawn = channel.circuit === null ? 0 : channel.circuit.height * scale + 10;
      const row = { channel, y: at, height: Math.max(LEAST_ROW, drawn), scale };
      at += row.height;
      return row;
    });
    const height = Math.max(BOX_HEIGHT, at - top + 6);
    y = top + height + GAP;
    return { name, y: top, height, rows };
  });
}

function middleOf({ y, height }: Row): number {
  return y + height / 2;
}

function feed(row: Row): string {
  const y = middleOf(row);
  const { fedBy } = row.channel;
  const sides = (['left', 'right'] as const).filter((side) => fedBy === 'both' || fedBy === side);
  const apart = fedBy === 'both' ? 7 : 0;
  return sides
    .map((side) => {
      const at = y + (side === 'left' ? -apart : apart);
      return `<path class="wire" d="M${TRUNK[side]} ${place(at)}H${TRIANGLE}"/><circle cx="${TRUNK[side]}" cy="${place(at)}" r="3"/>`;
    })
    .join('');
}

function stage(row: Row): string {
  const y = middleOf(row);
  const bridged = row.channel.isBridged ? label(TRIANGLE - 2, y + 27, 'bridged', 'class="small"') : '';
  return `<path class="part" d="M${TRIANGLE} ${place(y - 13)}v26l24 -13z"/>${bridged}`;
}

function coils({ channel, scale, ...row }: Row): string {
  const { circuit } = channel;
  if (circuit === null) return label(COILS.left, row.y + row.height / 2 + 4, 'cannot be wired');
  const top = row.y + (row.height - circuit.height * scale) / 2;
  const plusY = top + circuit.plus.y * scale;
  const y = row.y + row.height / 2;
  const lead = `<path class="wire" d="M${TRIANGLE + 24} ${place(y)}h6V${place(plusY)}H${place(COILS.left + circuit.plus.x * scale)}"/>`;
  const boxes = driverBoxes(circuit, channel.coilsEach).map(
    (box) =>
      `<rect class="driver" x="${place(box.x + 2)}" y="${place(box.y + 2)}" width="${place(box.width - 4)}" height="${place(box.height - 4)}" rx="7"/>`,
  );
  const written = circuit.coils.map((coil) => {
    const { x, y: at, textAnchor } = ohmsPlace(coil);
    return label(x, at, String(Number(coil.ohms.toPrecision(3))), `text-anchor="${textAnchor}"`);
  });
  return (
    `${lead}<g transform="translate(${COILS.left} ${place(top)}) scale(${place(scale)})">${boxes.join('')}` +
    `<path class="wire" d="${wiresPath(circuit.wires)}${circuit.coils.map(windingPath).join('')}"/>${written.join('')}` +
    `<circle cx="${place(circuit.minus.x)}" cy="${place(circuit.minus.y)}" r="3"/></g>`
  );
}

function words(row: Row): string {
  const y = middleOf(row);
  const room = AMPLIFIER.right - WORDS - 6;
  const { name, band, load } = row.channel;
  return (
    label(WORDS, y - 10, cut(name, room - 8), 'class="name"') +
    label(WORDS, y + 6, cut(band, room)) +
    label(WORDS, y + 22, cut(load, room))
  );
}

function amplifier(block: Block): string {
  const { left, right } = AMPLIFIER;
  return (
    `<rect class="part" x="${left}" y="${block.y}" width="${right - left}" height="${place(block.height)}" rx="8"/>` +
    label(left + 12, block.y + 18, cut(block.name, right - left - 40), 'class="name"') +
    block.rows.map((row) => feed(row) + stage(row) + coils(row) + words(row)).join('')
  );
}

/** On two lines where one is too short. */
function twoLines(text: string, room: number): string[] {
  const most = Math.floor(room / LETTER);
  if (text.length <= most) return [text];
  const at = text.lastIndexOf(' ', most);
  return at <= 0 ? [cut(text, room)] : [text.slice(0, at), cut(text.slice(at + 1), room)];
}

function box(part: { left: number; right: number }, middle: number, name: string, line: string): string {
  const width = part.right - part.left;
  const names = twoLines(name, width - 16);
  const top = middle + (names.length === 1 ? -4 : -13);
  return (
    `<rect class="part" x="${part.left}" y="${place(middle - BOX_HEIGHT / 2)}" width="${width}" height="${BOX_HEIGHT}" rx="8"/>` +
    names.map((one, index) => label(part.left + 8, top + index * 15, one, 'class="name"')).join('') +
    label(part.left + 8, top + names.length * 16, cut(line, width - 12))
  );
}

function front({ source, pickup, converter }: ChainPicture, middle: number): string {
  const wires = [-5, 5].map((off) => `M${SOURCE.right} ${place(middle + off)}H${CONVERTER.left}`).join('');
  const between = (SOURCE.right + CONVERTER.left) / 2;
  const load =
    pickup.load === null
      ? ''
      : `<path class="part" d="M${between - 5} ${place(middle - 11)}h10v22h-10z"/>${label(between, middle + 50, cut(pickup.load, 130), 'text-anchor="middle"')}`;
  const onward =
    converter === null ? `<path class="wire" d="M${CONVERTER.left} ${place(middle)}H${TRUNK.left}"/>` : '';
  return (
    box(SOURCE, middle, source.name, source.line) +
    `<path class="wire" d="${wires}"/>${load}` +
    label(between, middle - 34, pickup.level, 'text-anchor="middle"') +
    (converter === null ? onward : box(CONVERTER, middle, converter.name, converter.line))
  );
}

function trunk(blocks: readonly Block[], middle: number, hasConverter: boolean): string {
  const rows = blocks.flatMap((block) => block.rows);
  const from = hasConverter ? CONVERTER.right : CONVERTER.left;
  const side = (name: 'left' | 'right', off: number) => {
    const start = middle + off;
    const fed = rows.flatMap((row) => {
      const { fedBy } = row.channel;
      if (fedBy === 'both') return [middleOf(row) + off];
      return fedBy === name ? [middleOf(row)] : [];
    });
    const ends = [start, ...fed];
    return `<path class="wire" d="M${from} ${place(start)}H${TRUNK[name]}M${TRUNK[name]} ${place(Math.min(...ends))}V${place(Math.max(...ends))}"/>`;
  };
  return side('left', -7) + side('right', 7);
}

/** @param id unique on the page */
export function chainSvg({ picture, words: told }: ReportChain, id: string): string {
  const blocks = blocksOf(picture);
  const height = Math.max(130, ...blocks.map((block) => block.y + block.height + 2));
  const middle = Math.max(62, height / 2);
  const sides =
    label(TRUNK.left - 9, 12, 'L', 'class="name"') + label(TRUNK.right - 3, 12, 'R', 'class="name"');
  const shapes =
    front(picture, middle) +
    trunk(blocks, middle, picture.converter !== null) +
    blocks.map(amplifier).join('') +
    sides;
  return drawing(
    id,
    { width: WIDTH, height: Number(place(height)) },
    { title: 'The chain', words: told },
    shapes,
  );
}
