CREATE TABLE "public_wheel_finds" (
	"wheel_id" text collate "C" PRIMARY KEY NOT NULL,
	"guild_id" text collate "C" NOT NULL,
	"revision" integer NOT NULL,
	"keys" text[] NOT NULL,
	"ratio_lows" double precision[] NOT NULL,
	"ratio_highs" double precision[] NOT NULL,
	"lowest_ratio" double precision,
	"highest_ratio" double precision,
	"draws_in" boolean,
	"orifice_mm" double precision
);
--> statement-breakpoint
CREATE TABLE "wheel_finds" (
	"wheel_id" text collate "C" PRIMARY KEY NOT NULL,
	"guild_id" text collate "C" NOT NULL,
	"revision" integer NOT NULL,
	"keys" text[] NOT NULL,
	"ratio_lows" double precision[] NOT NULL,
	"ratio_highs" double precision[] NOT NULL,
	"lowest_ratio" double precision,
	"highest_ratio" double precision,
	"draws_in" boolean,
	"orifice_mm" double precision,
	"visibility" text NOT NULL
);
--> statement-breakpoint
ALTER TABLE "public_wheel_finds" ADD CONSTRAINT "public_wheel_finds_guild_id_guilds_id_fk" FOREIGN KEY ("guild_id") REFERENCES "public"."guilds"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "public_wheel_finds" ADD CONSTRAINT "public_wheel_finds_wheel_id_guild_id_wheels_id_guild_id_fk" FOREIGN KEY ("wheel_id","guild_id") REFERENCES "public"."wheels"("id","guild_id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "wheel_finds" ADD CONSTRAINT "wheel_finds_guild_id_guilds_id_fk" FOREIGN KEY ("guild_id") REFERENCES "public"."guilds"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "wheel_finds" ADD CONSTRAINT "wheel_finds_wheel_id_guild_id_wheels_id_guild_id_fk" FOREIGN KEY ("wheel_id","guild_id") REFERENCES "public"."wheels"("id","guild_id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "public_wheel_finds_guild" ON "public_wheel_finds" USING btree ("guild_id");--> statement-breakpoint
CREATE INDEX "public_wheel_finds_keys" ON "public_wheel_finds" USING gin ("keys");--> statement-breakpoint
CREATE INDEX "public_wheel_finds_ratio" ON "public_wheel_finds" USING btree ("lowest_ratio","highest_ratio");--> statement-breakpoint
CREATE INDEX "public_wheel_finds_orifice" ON "public_wheel_finds" USING btree ("orifice_mm");--> statement-breakpoint
CREATE INDEX "wheel_finds_guild" ON "wheel_finds" USING btree ("guild_id","wheel_id");--> statement-breakpoint
-- From here on by hand: who may see which row, and the copy of what is public.
SELECT guard_guild_table('wheel_finds');--> statement-breakpoint
SELECT guard_guild_table('public_wheel_finds', 'true');--> statement-breakpoint
CREATE FUNCTION copy_public_find() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP <> 'INSERT' THEN DELETE FROM public_wheel_finds WHERE wheel_id = OLD.wheel_id; END IF;
  IF TG_OP <> 'DELETE' AND NEW.visibility = 'public' THEN
    INSERT INTO public_wheel_finds (wheel_id, guild_id, revision, keys, ratio_lows, ratio_highs, lowest_ratio, highest_ratio, draws_in, orifice_mm)
      VALUES (NEW.wheel_id, NEW.guild_id, NEW.revision, NEW.keys, NEW.ratio_lows, NEW.ratio_highs, NEW.lowest_ratio, NEW.highest_ratio, NEW.draws_in, NEW.orifice_mm);
  END IF;
  RETURN NULL;
END $$;
--> statement-breakpoint
CREATE TRIGGER copy_public_find AFTER INSERT OR UPDATE OR DELETE ON wheel_finds FOR EACH ROW EXECUTE FUNCTION copy_public_find();
