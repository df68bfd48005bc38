"""The writer's tools: what makes, formats, renames and fills in records. Every change is proven before it is written."""
