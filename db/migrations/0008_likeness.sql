-- What a wheel is found by is told anew of every wheel, when the library is next opened.
TRUNCATE wheel_finds, public_wheel_finds;--> statement-breakpoint
ALTER TABLE "public_wheel_finds" ADD COLUMN "most_drawn_in_mm" double precision;--> statement-breakpoint
ALTER TABLE "public_wheel_finds" ADD COLUMN "least_twist" double precision;--> statement-breakpoint
ALTER TABLE "public_wheel_finds" ADD COLUMN "style" text;--> statement-breakpoint
ALTER TABLE "public_wheel_finds" ADD COLUMN "drives" text[] DEFAULT '{}' NOT NULL;--> statement-breakpoint
ALTER TABLE "public_wheel_finds" ADD COLUMN "wheel_mm" double precision;--> statement-breakpoint
ALTER TABLE "wheel_finds" ADD COLUMN "most_drawn_in_mm" double precision;--> statement-breakpoint
ALTER TABLE "wheel_finds" ADD COLUMN "least_twist" double precision;--> statement-breakpoint
ALTER TABLE "wheel_finds" ADD COLUMN "style" text;--> statement-breakpoint
ALTER TABLE "wheel_finds" ADD COLUMN "drives" text[] DEFAULT '{}' NOT NULL;--> statement-breakpoint
ALTER TABLE "wheel_finds" ADD COLUMN "wheel_mm" double precision;--> statement-breakpoint
CREATE INDEX "public_wheel_finds_highest" ON "public_wheel_finds" USING btree ("highest_ratio");--> statement-breakpoint
CREATE INDEX "public_wheel_finds_drawn" ON "public_wheel_finds" USING btree ("most_drawn_in_mm");--> statement-breakpoint
CREATE INDEX "public_wheel_finds_twist" ON "public_wheel_finds" USING btree ("least_twist");--> statement-breakpoint
CREATE INDEX "public_wheel_finds_size" ON "public_wheel_finds" USING btree ("wheel_mm");--> statement-breakpoint
CREATE INDEX "wheels_forked" ON "wheels" USING btree ("forked_from","id") WHERE forked_from is not null;--> statement-breakpoint
CREATE OR REPLACE FUNCTION copy_public_find() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP <> 'INSERT' THEN DELETE FROM public_wheel_finds WHERE wheel_id = OLD.wheel_id; END IF;
  IF TG_OP <> 'DELETE' AND NEW.visibility = 'public' THEN
    INSERT INTO public_wheel_finds (wheel_id, guild_id, revision, keys, ratio_lows, ratio_highs, lowest_ratio, highest_ratio, draws_in, orifice_mm, most_drawn_in_mm, least_twist, style, drives, wheel_mm)
      VALUES (NEW.wheel_id, NEW.guild_id, NEW.revision, NEW.keys, NEW.ratio_lows, NEW.ratio_highs, NEW.lowest_ratio, NEW.highest_ratio, NEW.draws_in, NEW.orifice_mm, NEW.most_drawn_in_mm, NEW.least_twist, NEW.style, NEW.drives, NEW.wheel_mm);
  END IF;
  RETURN NULL;
END $$;
