import { z } from 'zod';
import { JOB_VERSION, jobDocument } from './document.ts';
import { MANIFEST_VERSION, manifest } from './manifest.ts';

/** The open file formats as other programs read them: JSON Schema 2020-12, one text for each file in `shared/`. */
export function publishedSchemas(): { file: string; text: string }[] {
  return [
    { file: 'job.schema.json', text: schemaText(jobDocument, JOB_VERSION) },
    { file: 'manifest.schema.json', text: schemaText(manifest, MANIFEST_VERSION) },
  ];
}

/** Ids in the document that refer to each other are beyond JSON Schema; the reader checks them as well. */
function schemaText(schema: z.ZodType, version: number): string {
  const { $schema, ...rest } = z.toJSONSchema(schema, { target: 'draft-2020-12', io: 'input' });
  return `${JSON.stringify({ $schema, $comment: `Version ${version}, written from src/job; do not edit.`, ...rest }, null, 2)}\n`;
}
