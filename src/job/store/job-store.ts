/** The browser's keeper of jobs, as the screen sees it. */
import type { FileMeaning } from '../../plan/calibration/microphone-curve.ts';
import type { MicrophonePoint } from '../../plan/calibration/microphone-file.ts';
import type { SoundScale } from '../../plan/calibration/sound-scale.ts';
import type { CalibrationStamp, Job, JobRecord, SignOff } from '../document.ts';

export interface JobSummary {
  id: string;
  title: string;
  vehicle: string;
  /** ISO 8601, UTC. */
  updatedAt: string;
  recordCount: number;
  /** Why this job cannot be opened (made by a newer Kneepoint, say), one sentence; it is kept all the same. */
  refused: string | null;
}

/** What the browser says of a device. Only label and group survive a cleared permission. */
export interface DeviceIdentity {
  deviceId: string;
  groupId: string;
  label: string;
}

/** What is known of one channel of one device. */
export interface OfDevice {
  id: string;
  /** ISO 8601, UTC. */
  at: string;
  device: DeviceIdentity;
  /** Channel of the input, counted from 0. */
  inputChannel: number;
}

export interface StoredCalibration extends CalibrationStamp, OfDevice {}

/** The calibration file of the microphone on an input. */
export interface StoredMicrophone extends OfDevice {
  /** `null` where the microphone is used without a file from then on. */
  file: { name: string; meaning: FileMeaning; points: MicrophonePoint[] } | null;
}

/** What a full-scale sine at an input is in sound pressure. */
export interface StoredSoundScale extends OfDevice {
  scale: SoundScale;
}

/** How surely a calibration belongs to the device at hand; the last two deserve a word to the user. */
export type CalibrationMatch = 'device' | 'label-and-group' | 'label';

export interface Found<T extends OfDevice> {
  known: T;
  match: CalibrationMatch;
}

export interface StoreSnapshot {
  /** Last changed first. */
  jobs: JobSummary[];
  /** Newest first. */
  calibrations: StoredCalibration[];
  /** Newest first. */
  microphones: StoredMicrophone[];
  /** Newest first. */
  soundScales: StoredSoundScale[];
  /** Why nothing can be stored any more, one sentence. */
  trouble: string | null;
}

export interface ImportedJob {
  job: Job;
  /** `kept-both`: another job had this id, so this one got a new id; `already-here`: nothing was added. */
  outcome: 'added' | 'already-here' | 'kept-both';
}

export interface JobStore {
  /** For `useSyncExternalStore`: calls back after each change, in this tab or another. Gives the way to stop it. */
  subscribe(listener: () => void): () => void;
  /** The same object until something changes. */
  getSnapshot(): StoreSnapshot;
  /** @throws JobRefused where there is no such job, or it cannot be read. */
  openJob(id: string): Promise<Job>;
  /**
   * Stores everything but what is recorded already, and stamps `updatedAt`. Records and sign-offs that are new
   * are added; none is taken away or replaced, whatever `job` holds. Gives the job as it is stored now, with
   * the records that another tab may have added.
   *
   * @throws JobRefused where the job is invalid, or one of a newer version stands under its id.
   */
  saveJob(job: Job): Promise<Job>;
  /**
   * Adds one accepted record. Resolves only once it is on disk (one transaction, durability strict): the tab
   * may be closed or killed at any instant after that, and before that nothing half is left behind.
   *
   * @throws JobRefused where the job is not there, the record is invalid, or its id is taken.
   */
  acceptRecord(jobId: string, record: JobRecord): Promise<Job>;
  /**
   * Adds one sign-off, as `acceptRecord` does a record.
   *
   * @throws JobRefused where the job is not there, the sign-off is invalid, its id is taken, or it does not hash
   * to what it says.
   */
  addSignOff(jobId: string, signOff: SignOff): Promise<Job>;
  /** Takes a job, its records and its sign-offs away, for good and whole; nothing happens where it is not there. */
  deleteJob(id: string): Promise<void>;
  /**
   * @throws JobRefused where the text is not a job that can be read, JobAltered where it was altered after it was
   * signed; nothing is stored then.
   */
  importJob(text: string): Promise<ImportedJob>;
  /** With a hash over the whole file where the job has sign-offs. @throws JobRefused as `openJob` does. */
  exportJob(id: string): Promise<{ fileName: string; text: string }>;
  /** Adds a calibration; earlier ones of the same device stay. */
  addCalibration(calibration: StoredCalibration): Promise<void>;
  /** The newest calibration of this device and input channel, or `null`. */
  calibrationFor(device: DeviceIdentity, inputChannel: number): Found<StoredCalibration> | null;
  /** Adds what a microphone's file says; earlier ones stay. */
  addMicrophone(microphone: StoredMicrophone): Promise<void>;
  microphoneFor(device: DeviceIdentity, inputChannel: number): Found<StoredMicrophone> | null;
  /** Adds what an acoustic calibrator gave; earlier ones stay. */
  addSoundScale(scale: StoredSoundScale): Promise<void>;
  soundScaleFor(device: DeviceIdentity, inputChannel: number): Found<StoredSoundScale> | null;
  close(): void;
}
