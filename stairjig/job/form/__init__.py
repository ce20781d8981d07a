"""A filled measuring form read as a job."""
