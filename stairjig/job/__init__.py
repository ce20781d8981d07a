"""From a job file, a filled form or a pack to one frozen `Job`."""
