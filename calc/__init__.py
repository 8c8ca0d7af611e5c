"""The engineering: plain functions of SI floats or numpy arrays.

Conventions of every module here:

- Arguments and results are SI (m, kg, s, K, Pa, N, W), with two exceptions that the trade never
  writes otherwise: rotational speed in revolutions per second and plane angle in radians.
- A scalar may be replaced by a numpy array; arrays broadcast.
- A value outside a function's stated range raises `calc.domain.DomainError`, which names the
  argument, the value and the range. Nothing is clamped or extrapolated.
- Where the inputs are sound but the relation has no solution, the result is NaN, and the docstring
  says what that means. The pages turn it into words; it never reaches a screen.
- Nothing here knows of files, pages or unit objects. Standard tables are data of the site.
"""
