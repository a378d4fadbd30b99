import { Ajv } from 'ajv';

/**
 * The issues that a merge request on GitLab shows, as its documentation ("Code Quality", "Code Quality report format")
 * lists the required keys and the words of `severity`. From memory: no official schema exists.
 */
export const fitsCodeQuality = new Ajv().compile({
  type: 'array',
  items: {
    type: 'object',
    required: ['description', 'check_name', 'fingerprint', 'severity', 'location'],
    properties: {
      description: { type: 'string', minLength: 1 },
      check_name: { type: 'string', minLength: 1 },
      fingerprint: { type: 'string', minLength: 1 },
      severity: { enum: ['info', 'minor', 'major', 'critical', 'blocker'] },
      location: {
        type: 'object',
        required: ['path', 'lines'],
        properties: {
          path: { type: 'string', not: { pattern: '^\\./.' } },
          lines: { type: 'object', required: ['begin'], properties: { begin: { type: 'integer', minimum: 1 } } },
        },
      },
    },
  },
});
