"""From lookups to a folder of files: routes, freeze, catalogue, offline use."""
