"""From photograph to picture: the canvas found and straightened, the light balanced, what the camera did."""
