-- +goose Up
-- Whether the positions that photographs claim were left out of a pack; before, that stood in its record.json alone.
ALTER TABLE packs ADD COLUMN no_positions INTEGER NOT NULL DEFAULT 0 CHECK (no_positions IN (0, 1));
