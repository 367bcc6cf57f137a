/**
 * The schema library may build its checks with `new Function`, which the
 * page's content policy forbids; it is told so before its first use, instead
 * of finding out by a refusal.
 */
import { z } from 'zod';

z.config({ jitless: true });
