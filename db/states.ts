/** What a failure of the database means to whoever asked: SQLSTATE (PostgreSQL manual, appendix A) to the catalogue, once. */
import { ProblemError } from '../services/foundation/problems.js';

/** Why a library cannot be opened, as one sentence for whoever started the service. */
export class LibraryError extends Error {
  override readonly name = 'LibraryError';
}

export const away = (cause?: unknown, seconds = 5): ProblemError =>
  new ProblemError('library-unavailable', undefined, { headers: { 'retry-after': String(seconds) }, cause });

/** The problem of a failure, or the failure itself when it is our own fault (it then becomes an internal error). */
export function stateProblem(error: unknown): unknown {
  if (error instanceof ProblemError || !(error instanceof Error)) return error;
  const { code } = error as Error & { code?: string };
  switch (code) {
    case '23505': // unique_violation
    case '23503': // foreign_key_violation
      return new ProblemError('conflict', undefined, { cause: error });
    case '40001': // serialization_failure
    case '40P01': // deadlock_detected
    case '55P03': // lock_not_available
      return away(error, 1);
    case '57014': // query_canceled: the statement took longer than is allowed
    case '57P01': // admin_shutdown
    case '57P02': // crash_shutdown
    case '57P03': // cannot_connect_now
    case '57P05': // idle_session_timeout
    case '25006': // read_only_sql_transaction: a standby
    case '25P03': // idle_in_transaction_session_timeout
    case '3D000': // invalid_catalog_name: no such database
    case '28000': // invalid_authorization_specification
    case '28P01': // invalid_password
    case 'XX000': // internal_error of the server
    case 'CONNECTION_CLOSED':
    case 'CONNECTION_ENDED':
    case 'CONNECTION_DESTROYED':
    case 'CONNECT_TIMEOUT':
    case 'ECONNREFUSED':
    case 'ECONNRESET':
    case 'EPIPE':
    case 'ETIMEDOUT':
    case 'ENOTFOUND':
    case 'EAI_AGAIN':
    case 'EHOSTUNREACH':
    case 'ENETUNREACH':
    case 'ENOENT': // a unix socket that is not there
      return away(error);
    case '42501': // insufficient_privilege: of a connection that may not take on its role; anything else is our own fault
      return /set role/.test(error.message) ? away(error) : error;
    default:
      // 08: connection; 53: no memory, no disk, too many connections; 58: the server's own files.
      return code !== undefined && /^(08|53|58)/.test(code) ? away(error) : error;
  }
}
