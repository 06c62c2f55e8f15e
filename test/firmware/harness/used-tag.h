/* A board whose tag has been in use: every record whole, the frame of the vector "frame-ordinary" in slot A, and a
   sensor, a bridge and a supply that work. */
#ifndef USED_TAG_H
#define USED_TAG_H

void board_with_used_tag(void);

#endif
