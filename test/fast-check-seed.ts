// Property tests draw the same cases in every run; OHMSTEAD_SEED draws others.
import fc from 'fast-check';

fc.configureGlobal({ ...fc.readConfigureGlobal(), seed: Number(process.env['OHMSTEAD_SEED'] ?? 2026) });
