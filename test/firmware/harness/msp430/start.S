; Reset vector and stack; the program clears its own variables' section.
    .text
    .globl _start
_start:
    mov #__stack, r1
    call #clear_variables
    call #main
stop:
    jmp stop

    .section .reset, "a"
    .word _start
