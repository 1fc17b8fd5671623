"""Published limits, the way of raw and cold food along the steps, and what a child avoids."""
