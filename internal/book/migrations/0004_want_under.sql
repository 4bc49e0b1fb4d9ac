-- What a want is to be grown under: '' as the site has it, 'open' in the open only, or the ID of a cover.

-- +goose Up

ALTER TABLE want ADD COLUMN under TEXT NOT NULL DEFAULT '';
