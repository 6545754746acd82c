CREATE TABLE "spent" (
	"guild_id" text collate "C" PRIMARY KEY NOT NULL,
	"minute" integer NOT NULL,
	"count" integer NOT NULL
);
--> statement-breakpoint
ALTER TABLE "spent" ADD CONSTRAINT "spent_guild_id_guilds_id_fk" FOREIGN KEY ("guild_id") REFERENCES "public"."guilds"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
SELECT guard_guild_table('spent');
