-- +goose Up
-- The documents of a pack; packs of the first release had one for everybody.
ALTER TABLE packs ADD COLUMN editions TEXT NOT NULL DEFAULT 'null' CHECK (json_valid(editions));
