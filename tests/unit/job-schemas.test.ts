import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { JOB_VERSION } from '../../src/job/document.ts';
import { MANIFEST_VERSION } from '../../src/job/manifest.ts';
import { publishedSchemas } from '../../src/job/published-schemas.ts';

const shared = new URL('../../shared/', import.meta.url);

describe('the published schemas', () => {
  for (const { file, text } of publishedSchemas()) {
    const path = new URL(file, shared);

    it(`shared/${file} is what the source says (npm run schemas writes it anew)`, () => {
      expect(readFileSync(path, 'utf8')).toBe(text);
    });

    it(`shared/${file} is JSON Schema 2020-12 and pins format and version`, () => {
      const schema = JSON.parse(text);
      expect(schema.$schema).toBe('https://json-schema.org/draft/2020-12/schema');
      expect(schema.properties.format.const).toMatch(/^kneepoint-/);
      expect(schema.properties.version.const).toBe(
        file === 'job.schema.json' ? JOB_VERSION : MANIFEST_VERSION,
      );
      expect(schema.required).toEqual(expect.arrayContaining(['format', 'version']));
    });
  }
});
