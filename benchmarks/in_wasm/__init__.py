"""What the benchmark of the other way runs in a browser: recipes in Python, as WebAssembly."""
