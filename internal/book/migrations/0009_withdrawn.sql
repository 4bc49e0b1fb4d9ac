-- What was written wrongly of what was put on the ground is withdrawn: it stays in the journal, marked, and counts no more.

-- +goose Up

-- treatment_withdrawn marks treatments that no longer count.
CREATE TABLE treatment_withdrawn (
    entry_id     INTEGER PRIMARY KEY REFERENCES treatment (entry_id),
    withdrawn_at TEXT NOT NULL
);

-- +goose StatementBegin
CREATE TRIGGER treatment_withdrawn_stays BEFORE UPDATE ON treatment_withdrawn
BEGIN SELECT RAISE(ABORT, 'what was withdrawn stays withdrawn'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER treatment_withdrawn_is_kept BEFORE DELETE ON treatment_withdrawn
BEGIN SELECT RAISE(ABORT, 'what was withdrawn stays withdrawn'); END;
-- +goose StatementEnd
