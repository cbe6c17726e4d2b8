"""What can be measured in a picture, one question a module."""
