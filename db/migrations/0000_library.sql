CREATE TABLE "guilds" (
	"id" text collate "C" PRIMARY KEY NOT NULL,
	"name" text NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL
);
--> statement-breakpoint
CREATE TABLE "keys" (
	"id" text collate "C" PRIMARY KEY NOT NULL,
	"guild_id" text collate "C" NOT NULL,
	"label" text NOT NULL,
	"prefix" text NOT NULL,
	"hash" text NOT NULL,
	"scopes" text[] NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"revoked_at" timestamp with time zone,
	CONSTRAINT "keys_hash_unique" UNIQUE("hash"),
	CONSTRAINT "keys_scopes" CHECK ("keys"."scopes" <@ array['read', 'write', 'admin'] and cardinality("keys"."scopes") > 0)
);
--> statement-breakpoint
CREATE TABLE "library_secrets" (
	"id" text PRIMARY KEY DEFAULT 'library' NOT NULL,
	"cursor_key" text NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "library_secrets_one" CHECK ("library_secrets"."id" = 'library')
);
--> statement-breakpoint
CREATE TABLE "wheel_revisions" (
	"wheel_id" text collate "C" NOT NULL,
	"revision" integer NOT NULL,
	"guild_id" text collate "C" NOT NULL,
	"change" text NOT NULL,
	"visibility" text NOT NULL,
	"profile" json NOT NULL,
	"key_id" text collate "C",
	"made_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "wheel_revisions_wheel_id_revision_pk" PRIMARY KEY("wheel_id","revision"),
	CONSTRAINT "wheel_revisions_change" CHECK ("wheel_revisions"."change" in ('made', 'changed', 'retired'))
);
--> statement-breakpoint
CREATE TABLE "wheels" (
	"id" text collate "C" PRIMARY KEY NOT NULL,
	"guild_id" text collate "C" NOT NULL,
	"visibility" text NOT NULL,
	"revision" integer NOT NULL,
	"name" text NOT NULL,
	"profile" json NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL,
	"retired_at" timestamp with time zone,
	CONSTRAINT "wheels_visibility" CHECK ("wheels"."visibility" in ('public', 'guild')),
	CONSTRAINT "wheels_revision" CHECK ("wheels"."revision" > 0)
);
--> statement-breakpoint
ALTER TABLE "keys" ADD CONSTRAINT "keys_guild_id_guilds_id_fk" FOREIGN KEY ("guild_id") REFERENCES "public"."guilds"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "wheel_revisions" ADD CONSTRAINT "wheel_revisions_wheel_id_wheels_id_fk" FOREIGN KEY ("wheel_id") REFERENCES "public"."wheels"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "wheel_revisions" ADD CONSTRAINT "wheel_revisions_guild_id_guilds_id_fk" FOREIGN KEY ("guild_id") REFERENCES "public"."guilds"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "wheel_revisions" ADD CONSTRAINT "wheel_revisions_key_id_keys_id_fk" FOREIGN KEY ("key_id") REFERENCES "public"."keys"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "wheels" ADD CONSTRAINT "wheels_guild_id_guilds_id_fk" FOREIGN KEY ("guild_id") REFERENCES "public"."guilds"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "keys_guild" ON "keys" USING btree ("guild_id");--> statement-breakpoint
CREATE INDEX "wheel_revisions_guild" ON "wheel_revisions" USING btree ("guild_id");--> statement-breakpoint
CREATE INDEX "wheels_guild" ON "wheels" USING btree ("guild_id","id");--> statement-breakpoint
CREATE INDEX "wheels_public" ON "wheels" USING btree ("id") WHERE visibility = 'public' and retired_at is null;