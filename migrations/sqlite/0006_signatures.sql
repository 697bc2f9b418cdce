-- +goose Up
-- A guest may draw a signature beside the typed name: strokes as text, empty where none was drawn.
ALTER TABLE answers ADD COLUMN signature TEXT NOT NULL DEFAULT '';
