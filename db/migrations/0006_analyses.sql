CREATE TABLE "analyses" (
	"id" text collate "C" PRIMARY KEY NOT NULL,
	"guild_id" text collate "C" NOT NULL,
	"state" text NOT NULL,
	"layout" json NOT NULL,
	"rows" integer DEFAULT 0 NOT NULL,
	"bytes" bigint DEFAULT 0 NOT NULL,
	"analysed" integer DEFAULT 0 NOT NULL,
	"rejected" integer DEFAULT 0 NOT NULL,
	"summary" json,
	"lease" text,
	"locked_until" timestamp with time zone,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"updated_at" timestamp with time zone DEFAULT now() NOT NULL,
	"finished_at" timestamp with time zone,
	"expires_at" timestamp with time zone NOT NULL,
	CONSTRAINT "analyses_id_guild" UNIQUE("id","guild_id"),
	CONSTRAINT "analyses_state" CHECK ("analyses"."state" in ('receiving', 'analysing', 'comparing', 'done', 'cancelled'))
);
--> statement-breakpoint
CREATE TABLE "chunks" (
	"analysis_id" text collate "C" NOT NULL,
	"guild_id" text collate "C" NOT NULL,
	"first_row" integer NOT NULL,
	"first_line" integer NOT NULL,
	"rows" integer NOT NULL,
	"state" text NOT NULL,
	"lease" text,
	"locked_until" timestamp with time zone,
	"crashes" integer DEFAULT 0 NOT NULL,
	"source" text NOT NULL,
	"result" text,
	"features" text,
	"flags" text,
	"tally" json,
	"analysed" integer DEFAULT 0 NOT NULL,
	"rejected" integer DEFAULT 0 NOT NULL,
	CONSTRAINT "chunks_analysis_id_first_row_pk" PRIMARY KEY("analysis_id","first_row"),
	CONSTRAINT "chunks_state" CHECK ("chunks"."state" in ('waiting', 'working', 'done'))
);
--> statement-breakpoint
ALTER TABLE "analyses" ADD CONSTRAINT "analyses_guild_id_guilds_id_fk" FOREIGN KEY ("guild_id") REFERENCES "public"."guilds"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "chunks" ADD CONSTRAINT "chunks_analysis" FOREIGN KEY ("analysis_id","guild_id") REFERENCES "public"."analyses"("id","guild_id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "analyses_guild" ON "analyses" USING btree ("guild_id","id");--> statement-breakpoint
CREATE INDEX "analyses_expires" ON "analyses" USING btree ("expires_at");--> statement-breakpoint
CREATE INDEX "chunks_open" ON "chunks" USING btree ("first_row","analysis_id") WHERE state <> 'done';--> statement-breakpoint
SELECT guard_guild_table('analyses');--> statement-breakpoint
SELECT open_to_keeper('analyses', 'select, update, delete');--> statement-breakpoint
SELECT guard_guild_table('chunks');--> statement-breakpoint
SELECT open_to_keeper('chunks', 'select, insert, update, delete');
