"""The class folder in a browser while it is written: a page that follows every save.

    address     what a browser may ask for, and which file that is
    watch       whether anything was saved
    listed      the sheets that there are, and whether they changed
    board       what the page tells at one moment, as JSON
    shell       the page itself: a bar, the problems, and the sheet in a frame
    server      answers on this computer's own address alone
    port        a port that is free, or who holds the one that was asked for
    follow      builds again after every save

The clock is read here, and in no other room: a preview lives in time.
"""
