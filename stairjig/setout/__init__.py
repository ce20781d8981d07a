"""From a job to the whole layout in numbers: where every mark, newel and gap stands."""
