"""What a printer makes of a millimetre: readings of the calibration sheet, judged, and kept for each printer."""
