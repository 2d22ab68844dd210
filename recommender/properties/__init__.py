"""Values with provenance: what is known of a chemical at the scene."""
