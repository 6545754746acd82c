CREATE TABLE "card_revisions" (
	"card_id" text collate "C" NOT NULL,
	"revision" integer NOT NULL,
	"guild_id" text collate "C" NOT NULL,
	"change" text NOT NULL,
	"card" json NOT NULL,
	"key_id" text collate "C",
	"made_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "card_revisions_card_id_revision_pk" PRIMARY KEY("card_id","revision"),
	CONSTRAINT "card_revisions_change" CHECK ("card_revisions"."change" in ('made', 'changed', 'retired'))
);
--> statement-breakpoint
CREATE TABLE "cards" (
	"id" text collate "C" PRIMARY KEY NOT NULL,
	"guild_id" text collate "C" NOT NULL,
	"visibility" text NOT NULL,
	"revision" integer NOT NULL,
	"wheel_id" text collate "C",
	"wheel_revision" integer,
	"card" json NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL,
	"retired_at" timestamp with time zone,
	CONSTRAINT "cards_visibility" CHECK ("cards"."visibility" in ('public', 'guild')),
	CONSTRAINT "cards_revision" CHECK ("cards"."revision" > 0)
);
--> statement-breakpoint
ALTER TABLE "card_revisions" ADD CONSTRAINT "card_revisions_card_id_cards_id_fk" FOREIGN KEY ("card_id") REFERENCES "public"."cards"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "card_revisions" ADD CONSTRAINT "card_revisions_guild_id_guilds_id_fk" FOREIGN KEY ("guild_id") REFERENCES "public"."guilds"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "card_revisions" ADD CONSTRAINT "card_revisions_key_id_keys_id_fk" FOREIGN KEY ("key_id") REFERENCES "public"."keys"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "cards" ADD CONSTRAINT "cards_guild_id_guilds_id_fk" FOREIGN KEY ("guild_id") REFERENCES "public"."guilds"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "cards" ADD CONSTRAINT "cards_wheel_id_wheels_id_fk" FOREIGN KEY ("wheel_id") REFERENCES "public"."wheels"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "card_revisions_guild" ON "card_revisions" USING btree ("guild_id");--> statement-breakpoint
CREATE INDEX "cards_guild" ON "cards" USING btree ("guild_id","id");--> statement-breakpoint
CREATE INDEX "cards_public" ON "cards" USING btree ("id") WHERE visibility = 'public' and retired_at is null;--> statement-breakpoint
CREATE INDEX "cards_wheel" ON "cards" USING btree ("wheel_id","id");--> statement-breakpoint
-- From here on by hand: who may see which row. Revisions are the guild's own, even of a card that all may read.
SELECT guard_guild_table('cards', 'visibility = ''public'' and retired_at is null');--> statement-breakpoint
REVOKE DELETE ON cards FROM wheelgrist_guild;--> statement-breakpoint
SELECT audit_writes('cards', 'card');--> statement-breakpoint
SELECT guard_guild_table('card_revisions');--> statement-breakpoint
REVOKE UPDATE, DELETE ON card_revisions FROM wheelgrist_guild;
