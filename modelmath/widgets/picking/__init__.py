"""Parts of the strips page, each over one of the pickers."""
