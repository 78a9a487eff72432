-- Version 1 wrote the state before a step without its hyphens, and could not read it again.
UPDATE events SET from_state = 'returned-unacknowledged' WHERE from_state = 'returnedunacknowledged';
UPDATE events SET from_state = 'out-of-service' WHERE from_state = 'outofservice';
