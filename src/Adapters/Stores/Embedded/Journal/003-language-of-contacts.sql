-- In which a contact reads; boaters choose it on their page.
ALTER TABLE contacts ADD COLUMN language TEXT;
