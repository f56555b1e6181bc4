"""Single drawings: housings, cauls, patches, gauges, calibration and the glue-up page."""
