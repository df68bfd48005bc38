"""All records loaded and linked: applicability, values per machine, required cautions, and the rules that need them."""
