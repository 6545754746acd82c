CREATE TABLE "care" (
	"id" text collate "C" PRIMARY KEY NOT NULL,
	"guild_id" text collate "C" NOT NULL,
	"wheel_id" text collate "C" NOT NULL,
	"revision" integer NOT NULL,
	"entry" json NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"retired_at" timestamp with time zone
);
--> statement-breakpoint
CREATE TABLE "loan_revisions" (
	"loan_id" text collate "C" NOT NULL,
	"revision" integer NOT NULL,
	"guild_id" text collate "C" NOT NULL,
	"loan" json NOT NULL,
	"key_id" text collate "C",
	"made_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "loan_revisions_loan_id_revision_pk" PRIMARY KEY("loan_id","revision")
);
--> statement-breakpoint
CREATE TABLE "loans" (
	"id" text collate "C" PRIMARY KEY NOT NULL,
	"guild_id" text collate "C" NOT NULL,
	"wheel_id" text collate "C" NOT NULL,
	"revision" integer NOT NULL,
	"loan" json NOT NULL,
	"due_on" text NOT NULL,
	"returned_on" text,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL
);
--> statement-breakpoint
ALTER TABLE "care" ADD CONSTRAINT "care_guild_id_guilds_id_fk" FOREIGN KEY ("guild_id") REFERENCES "public"."guilds"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "care" ADD CONSTRAINT "care_wheel_id_guild_id_wheels_id_guild_id_fk" FOREIGN KEY ("wheel_id","guild_id") REFERENCES "public"."wheels"("id","guild_id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "loan_revisions" ADD CONSTRAINT "loan_revisions_loan_id_loans_id_fk" FOREIGN KEY ("loan_id") REFERENCES "public"."loans"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "loan_revisions" ADD CONSTRAINT "loan_revisions_guild_id_guilds_id_fk" FOREIGN KEY ("guild_id") REFERENCES "public"."guilds"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "loan_revisions" ADD CONSTRAINT "loan_revisions_key_id_keys_id_fk" FOREIGN KEY ("key_id") REFERENCES "public"."keys"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "loans" ADD CONSTRAINT "loans_guild_id_guilds_id_fk" FOREIGN KEY ("guild_id") REFERENCES "public"."guilds"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "loans" ADD CONSTRAINT "loans_wheel_id_guild_id_wheels_id_guild_id_fk" FOREIGN KEY ("wheel_id","guild_id") REFERENCES "public"."wheels"("id","guild_id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "care_wheel" ON "care" USING btree ("wheel_id","id");--> statement-breakpoint
CREATE INDEX "care_guild" ON "care" USING btree ("guild_id");--> statement-breakpoint
CREATE INDEX "loan_revisions_guild" ON "loan_revisions" USING btree ("guild_id");--> statement-breakpoint
CREATE INDEX "loans_wheel" ON "loans" USING btree ("wheel_id","id");--> statement-breakpoint
CREATE INDEX "loans_guild" ON "loans" USING btree ("guild_id","id");--> statement-breakpoint
CREATE INDEX "loans_due" ON "loans" USING btree ("guild_id","due_on") WHERE returned_on is null;--> statement-breakpoint
CREATE UNIQUE INDEX "loans_out" ON "loans" USING btree ("wheel_id") WHERE returned_on is null;--> statement-breakpoint
-- From here on by hand: who may see which row. Loans and the log of care are the guild's own, even of a public wheel.
SELECT guard_guild_table('loans');--> statement-breakpoint
REVOKE DELETE ON loans FROM wheelgrist_guild;--> statement-breakpoint
SELECT audit_writes('loans', 'loan');--> statement-breakpoint
SELECT guard_guild_table('loan_revisions');--> statement-breakpoint
REVOKE UPDATE, DELETE ON loan_revisions FROM wheelgrist_guild;--> statement-breakpoint
SELECT guard_guild_table('care');--> statement-breakpoint
REVOKE DELETE ON care FROM wheelgrist_guild;--> statement-breakpoint
SELECT audit_writes('care', 'care');
