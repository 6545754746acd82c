CREATE TABLE "measurements" (
	"id" text collate "C" PRIMARY KEY NOT NULL,
	"guild_id" text collate "C" NOT NULL,
	"wheel_id" text collate "C" NOT NULL,
	"revision" integer NOT NULL,
	"measurement" json NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"retired_at" timestamp with time zone
);
--> statement-breakpoint
ALTER TABLE "measurements" ADD CONSTRAINT "measurements_guild_id_guilds_id_fk" FOREIGN KEY ("guild_id") REFERENCES "public"."guilds"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "measurements" ADD CONSTRAINT "measurements_wheel_id_guild_id_wheels_id_guild_id_fk" FOREIGN KEY ("wheel_id","guild_id") REFERENCES "public"."wheels"("id","guild_id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "measurements_wheel" ON "measurements" USING btree ("wheel_id","id");--> statement-breakpoint
CREATE INDEX "measurements_guild" ON "measurements" USING btree ("guild_id");--> statement-breakpoint
-- From here on by hand: who may see which row. What was measured of a public wheel is for everybody, as the wheel is.
SELECT guard_guild_table('measurements', 'exists (select 1 from wheels where wheels.id = wheel_id and wheels.visibility = ''public'' and wheels.retired_at is null)');--> statement-breakpoint
REVOKE DELETE ON measurements FROM wheelgrist_guild;--> statement-breakpoint
SELECT audit_writes('measurements', 'measurement');
