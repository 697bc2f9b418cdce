-- +goose Up
-- The fingerprint of the key that a pack was signed with; packs of the first release were not signed.
ALTER TABLE packs ADD COLUMN signed_by TEXT NOT NULL DEFAULT '' CHECK (signed_by = '' OR length(signed_by) = 64);
