"""The pieces that screens are made of. They post messages that carry domain objects and know no screen."""
