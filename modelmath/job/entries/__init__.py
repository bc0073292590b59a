"""What a person types on the first screens, to a job document and back."""
