"""What a person types about the inside: obstacles, sections, contents, holes and weight, to a job and back."""
