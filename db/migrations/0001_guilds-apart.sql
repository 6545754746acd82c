CREATE TABLE "audit" (
	"id" bigint PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "audit_id_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 9223372036854775807 START WITH 1 CACHE 1),
	"guild_id" text collate "C" NOT NULL,
	"at" timestamp with time zone DEFAULT now() NOT NULL,
	"key_id" text,
	"request_id" text,
	"action" text NOT NULL,
	"what" text NOT NULL,
	"subject" text NOT NULL,
	"revision" integer
);
--> statement-breakpoint
CREATE TABLE "idempotency" (
	"id" text PRIMARY KEY NOT NULL,
	"guild_id" text collate "C",
	"fingerprint" text NOT NULL,
	"status" integer NOT NULL,
	"headers" json NOT NULL,
	"sealed" text NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"expires_at" timestamp with time zone NOT NULL
);
--> statement-breakpoint
ALTER TABLE "wheel_revisions" DROP CONSTRAINT "wheel_revisions_change";--> statement-breakpoint
DROP INDEX "keys_guild";--> statement-breakpoint
ALTER TABLE "keys" ALTER COLUMN "guild_id" DROP NOT NULL;--> statement-breakpoint
ALTER TABLE "keys" ADD COLUMN "expires_at" timestamp with time zone;--> statement-breakpoint
ALTER TABLE "keys" ADD COLUMN "rotated_from" text collate "C";--> statement-breakpoint
ALTER TABLE "wheel_revisions" ADD COLUMN "restored" integer;--> statement-breakpoint
ALTER TABLE "wheel_revisions" ADD COLUMN "parts" json DEFAULT '[]'::json NOT NULL;--> statement-breakpoint
ALTER TABLE "wheels" ADD COLUMN "parts" json DEFAULT '[]'::json NOT NULL;--> statement-breakpoint
ALTER TABLE "wheels" ADD COLUMN "forked_from" text collate "C";--> statement-breakpoint
ALTER TABLE "wheels" ADD COLUMN "forked_revision" integer;--> statement-breakpoint
ALTER TABLE "audit" ADD CONSTRAINT "audit_guild_id_guilds_id_fk" FOREIGN KEY ("guild_id") REFERENCES "public"."guilds"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "idempotency" ADD CONSTRAINT "idempotency_guild_id_guilds_id_fk" FOREIGN KEY ("guild_id") REFERENCES "public"."guilds"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "audit_guild" ON "audit" USING btree ("guild_id","id");--> statement-breakpoint
CREATE INDEX "idempotency_guild" ON "idempotency" USING btree ("guild_id");--> statement-breakpoint
CREATE INDEX "idempotency_expires" ON "idempotency" USING btree ("expires_at");--> statement-breakpoint
CREATE INDEX "keys_guild" ON "keys" USING btree ("guild_id","id");--> statement-breakpoint
ALTER TABLE "wheels" ADD CONSTRAINT "wheels_id_guild" UNIQUE("id","guild_id");--> statement-breakpoint
ALTER TABLE "wheel_revisions" ADD CONSTRAINT "wheel_revisions_change" CHECK ("wheel_revisions"."change" in ('made', 'changed', 'retired', 'restored'));--> statement-breakpoint
-- From here on by hand: who may see which row. The roles are made before any migration (db/roles.ts).

-- What a guild keeps: its rows are its own to see and to change. `seen_by_all` is the condition under which everybody may
-- read a row, or null. Forced, so that it holds for the owner too; wheelgrist_backup alone sees every row.
CREATE FUNCTION guard_guild_table(target regclass, seen_by_all text DEFAULT NULL, guild_column text DEFAULT 'guild_id') RETURNS void LANGUAGE plpgsql AS $$
BEGIN
  EXECUTE format('alter table %s enable row level security', target);
  EXECUTE format('alter table %s force row level security', target);
  EXECUTE format('create policy every_row on %s to wheelgrist_backup using (true) with check (true)', target);
  EXECUTE format('grant select on %s to wheelgrist_backup', target);
  EXECUTE format('create policy own_rows on %s to wheelgrist_guild using (%2$I = current_setting(''wheelgrist.guild'', true)) with check (%2$I = current_setting(''wheelgrist.guild'', true))', target, guild_column);
  EXECUTE format('grant select, insert, update, delete on %s to wheelgrist_guild', target);
  IF seen_by_all IS NOT NULL THEN
    EXECUTE format('create policy seen_by_all on %s for select to wheelgrist_guild, wheelgrist_public using (%s)', target, seen_by_all);
    EXECUTE format('grant select on %s to wheelgrist_public', target);
  END IF;
END $$;
--> statement-breakpoint
-- What the house needs of a table for its own business, such as 'select, update': of every row, whoever's it is.
CREATE FUNCTION open_to_keeper(target regclass, rights text, which text DEFAULT 'true') RETURNS void LANGUAGE plpgsql AS $$
BEGIN
  EXECUTE format('create policy house on %s to wheelgrist_keeper using (%s) with check (%2$s)', target, which);
  EXECUTE format('grant %s on %s to wheelgrist_keeper', rights, target);
END $$;
--> statement-breakpoint
-- Writes a row of the audit for every row that is written, in the same transaction. The key and the request are those that
-- the transaction names.
CREATE FUNCTION note_in_audit() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  written jsonb := to_jsonb(CASE TG_OP WHEN 'DELETE' THEN OLD ELSE NEW END);
  before jsonb := CASE TG_OP WHEN 'UPDATE' THEN to_jsonb(OLD) END;
BEGIN
  IF written->>'guild_id' IS NULL THEN RETURN NULL; END IF;
  INSERT INTO audit (guild_id, key_id, request_id, action, what, subject, revision) VALUES (
    written->>'guild_id', nullif(current_setting('wheelgrist.key', true), ''), nullif(current_setting('wheelgrist.request', true), ''),
    CASE WHEN TG_OP = 'INSERT' THEN 'made' WHEN TG_OP = 'DELETE' THEN 'removed'
      WHEN written->>'retired_at' IS NOT NULL AND before->>'retired_at' IS NULL THEN 'retired'
      WHEN written->>'revoked_at' IS NOT NULL AND before->>'revoked_at' IS NULL THEN 'revoked'
      ELSE 'changed' END,
    TG_ARGV[0], written->>'id', (written->>'revision')::integer);
  RETURN NULL;
END $$;
--> statement-breakpoint
CREATE FUNCTION audit_writes(target regclass, what text) RETURNS void LANGUAGE plpgsql AS $$
BEGIN
  EXECUTE format('create trigger note_in_audit after insert or update or delete on %s for each row execute function note_in_audit(%L)', target, what);
END $$;
--> statement-breakpoint
SELECT guard_guild_table('guilds', NULL, 'id');--> statement-breakpoint
REVOKE INSERT, UPDATE, DELETE ON guilds FROM wheelgrist_guild;--> statement-breakpoint
SELECT open_to_keeper('guilds', 'select, insert');--> statement-breakpoint
SELECT guard_guild_table('keys');--> statement-breakpoint
REVOKE DELETE ON keys FROM wheelgrist_guild;--> statement-breakpoint
SELECT open_to_keeper('keys', 'select, insert');--> statement-breakpoint
SELECT audit_writes('keys', 'key');--> statement-breakpoint
SELECT guard_guild_table('audit');--> statement-breakpoint
REVOKE UPDATE, DELETE ON audit FROM wheelgrist_guild;--> statement-breakpoint
SELECT open_to_keeper('audit', 'insert');--> statement-breakpoint
SELECT guard_guild_table('idempotency');--> statement-breakpoint
SELECT open_to_keeper('idempotency', 'select, insert, update, delete', 'guild_id is null or expires_at < now()');--> statement-breakpoint
SELECT guard_guild_table('wheels', 'visibility = ''public'' and retired_at is null');--> statement-breakpoint
REVOKE DELETE ON wheels FROM wheelgrist_guild;--> statement-breakpoint
SELECT audit_writes('wheels', 'wheel');--> statement-breakpoint
SELECT guard_guild_table('wheel_revisions', 'visibility = ''public'' and exists (select 1 from wheels where wheels.id = wheel_id and wheels.visibility = ''public'' and wheels.retired_at is null)');--> statement-breakpoint
REVOKE UPDATE, DELETE ON wheel_revisions FROM wheelgrist_guild;--> statement-breakpoint
ALTER TABLE library_secrets ENABLE ROW LEVEL SECURITY;--> statement-breakpoint
ALTER TABLE library_secrets FORCE ROW LEVEL SECURITY;--> statement-breakpoint
CREATE POLICY every_row ON library_secrets TO wheelgrist_backup USING (true) WITH CHECK (true);--> statement-breakpoint
GRANT SELECT ON library_secrets TO wheelgrist_backup;--> statement-breakpoint
SELECT open_to_keeper('library_secrets', 'select, insert');
