"""A run of the benchmarks as rows, tables and plots."""
