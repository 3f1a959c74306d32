"""A lift looked back on: charts, moments, worst values."""
