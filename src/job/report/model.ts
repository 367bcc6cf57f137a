/**
 * The report as plain data: sections of facts, tables, pictures and sentences. Every figure in it is already
 * worded, once, so that page, print and terminal cannot tell different ones.
 */
import type { ProgressMark } from '../progress/checkpoint.ts';
import type { ChainPicture } from './chain-picture.ts';

export interface MarkedCell {
  text: string;
  mark: ProgressMark;
}

export type Cell = string | MarkedCell;

export interface ReportColumn {
  title: string;
  /** Figures stand to the right, so that their digits are under each other; a date is not broken up. */
  holds: 'words' | 'figures' | 'moments';
}

export interface ReportFacts {
  type: 'facts';
  facts: { label: string; value: Cell }[];
}

export interface ReportTable {
  type: 'table';
  caption: string;
  columns: ReportColumn[];
  /** One cell for each column; the first names the row. */
  rows: Cell[][];
}

export interface ReportNote {
  type: 'note';
  /** `grave` stands in a box of its own. */
  weight: 'plain' | 'grave';
  text: string;
}

export interface ReportList {
  type: 'list';
  items: { first: string; why: string }[];
}

export interface ReportAxis {
  scale: 'linear' | 'log';
  title: string;
  lowest: number;
  highest: number;
}

export type ReportLine = 'solid' | 'dashed' | 'dotted' | 'dots';

export interface ReportSeries {
  name: string;
  line: ReportLine;
  /** A gap where `y` is `null`. */
  points: { x: number; y: number | null }[];
}

/** A line across the picture at one value of x or y. */
export interface ReportMark {
  axis: 'x' | 'y';
  at: number;
  words: string;
}

export interface ReportChart {
  type: 'chart';
  title: string;
  /** What a glance at it would see. */
  words: string;
  x: ReportAxis;
  y: ReportAxis;
  series: ReportSeries[];
  marks: ReportMark[];
}

export interface ReportBars {
  type: 'bars';
  title: string;
  words: string;
  unit: string;
  /** `null` stands for what was not measured; the limit is a line across, `null` without one. */
  bars: { name: string; value: number | null; figure: string; limit: number | null }[];
}

export interface ReportChain {
  type: 'chain';
  words: string;
  picture: ChainPicture;
}

/** Lines to be filled in with a pen. */
interface ReportPen {
  type: 'pen';
  lines: string[];
}

export type ReportBlock =
  | ReportFacts
  | ReportTable
  | ReportNote
  | ReportList
  | ReportChart
  | ReportBars
  | ReportChain
  | ReportPen;

export interface ReportSection {
  /** Small letters and hyphens; stable. */
  id: string;
  heading: string;
  blocks: ReportBlock[];
}

export interface Report {
  title: string;
  vehicle: string;
  jobId: string;
  /** What all of it comes to. */
  verdict: MarkedCell & { sentence: string };
  sections: ReportSection[];
}
