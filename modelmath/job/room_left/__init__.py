"""The room left below the bulkhead: how sure it is, what it costs, and which size leaves what chance of touching."""
