"""Everyday English words, collected for this search: none of them is a misspelling, though a book may not use it.

A customer's "packet" is not to become "packed". Such a word is corrected only to one that the book has near the others of the query.
"""

from __future__ import annotations

from typing import Final

ORDINARY: Final = frozenset(
    """
    able about above access across actual added advice afraid afternoon again against agent agree alarm
    alive allow almost alone along already although amount angle angry annoy answer anybody anyone
    anywhere apple april area argue arm asked asking asleep aunt baby badge baked banana bang bank barber
    bare barn barrel basic basket bath beach bear beard beast beat beautiful became become bedroom beer
    began behave being believe bell belong below beside best better bigger bird birthday bite bitter blame
    blanket bless blind block blood blossom blue board boat body bold book boost boot border bored born
    borrow boss both bother bottle bottom bought bowl boy brain branch brave bread breakfast breath brick
    bridge brief bright bring british brother brought brown bucket budget bug building bunch burn bus bush
    business busy butter button buyer buying cab cabin cafe cake calf call calm camera camp candle cane
    cannot capital card care careful carpet carry cash castle cattle caught center century chain chair
    chance chart chase chat cheap cheek cheer cheese chest chicken child children chin choice choose chop
    church circle city class clay clever client climate clinic clock cloth cloud clue coach coast coat
    coffee coin collar college comfort coming common company compare concern cook cookie copper copy corn
    corner cotton count country county couple course court cousin crazy cream create credit creed creek
    crew crime crop crowd cruel cry curious curtain custom customer customers daily dairy damn dance
    danger dare dark date daughter dead deaf deal dealer dear death debt december decent decide deck deer
    delay deliver dentist desk dinner direct dirty dish dislike ditch doctor doing dollar done donkey
    doubt dozen drama dream dress drink drinking drone drove duck dull dumb during dusty duty eager early
    earn earth east easy eating edge egg eight either elbow empty enemy energy english enjoy enough entire
    error evening event everyday everyone evil exactly example excuse exercise expect expensive expert
    extra eye fabric face fact factory failure fairly faith fame family famous fancy farm farmer fate
    father favorite favour fear february fee feeling fellow felt fence fetch fever field fifteen fifty
    fight figure finger finish flag flat flavor flower folk follow food fool foot forest forget forgive
    fork forty forward foundation fourteen fox frame fresh friday fridge friend fright froth frothy fruit
    full fun fund funny furious fury future gallon garage garbage garden gate gather gave gentle getting
    ghost gift girl give given giving glad glass glove goat gold golf gone grand grandad grandma grandpa
    grass grateful great green grey grocery group grow growth guess guest guide guilty guitar gulf gun
    guys hair half hall handsome handy happen happy harbor hardly harm harvest hate haul having hay health
    heard hearing heart heaven hedge height held hell hello hence hero hidden hide hire hobby holiday
    honest honey hope horrible horse hospital hotel house human humble hungry hurry hurt husband hut idea
    ill imagine important income indeed infant inside insist instead insurance invite island issue issues
    item items jacket jail january jealous job join joke journey joy judge juice july june jury keen kept
    kettle kick kid kids kill kind king kiss kitchen kitten knee knew knife knock knowledge known ladder
    lady lake lamb land language large last late laugh laundry law lawyer lazy lead leaf learn least
    leather leave lecture left lemon lend lesson letter library lie life likely lion list little lively
    living loan lobby local log logic lonely looking lord lose losing lost lottery lounge love lovely
    lucky lunch luxury madam made magic maid mail making male manager manner map march market marriage
    marry master matter maybe mayor meadow meal meant meat medal medicine meeting melt member memory
    mental mention mercy merry message met middle midnight might mild million mind mine minister mirror
    miss mistake modern mole moment monday money monkey month mood moon moral mother mountain mouse mouth
    movie mud mule murder muscle museum music mystery naked nasty nation nature naughty near neat needle
    neither nephew nerve never news nice niece night nine nobody none nonsense noon north notice novel
    november nowhere nurse obey object obvious occur ocean october odd offer office officer often onion
    opinion orange orchard ordinary otherwise outside oven owe owl packet page paid pain paint pair palace
    pale panic pants paper pardon parent parents park partner party pass past patch path patient patrol
    pause paying peace peak pear peer pencil penny people pepper perfect perhaps person pet phone photo
    piano picnic picture piece pig pillow pink pity place planet plant plate play pleasant please pleasure
    plenty pocket poem poet poison police polite pond pony pool poor popular porch pork possible postman
    potato pound powder praise pray precious prefer premier present pretty price pride priest prince
    prison private prize project promise proper proud prove provide public pupil puppy purple purpose
    purse puzzle queen question quick quiet quite rabbit race radio rage rail railway rain raise random
    rapid rather reach react reading ready reason receipt recent recipe record refuse regret relax relief
    remain remember remote rent renter reply rescue respect rest result retired return reward rib rice
    rich ride right river road robin rock roof room rose rough route royal rude rug ruin rural rush sack
    sad said salad salary salt sand sandwich saturday sauce save saying scan scare scene school science
    scissors scream scroll search season seat second secret seed seen select selfish sell selling send
    sense sent sentence september serious servant session seven several shade shadow shame share sheep
    shelf shirt shock shore shoulder shout shower showing shown shy sick side sign silent silk silly
    silver similar simple simply since sing single sink sister sitting sixteen sixty skill skin skirt
    sleep sleeping sleeve slice sly smart smile smith snack sneak soap soccer social sock sofa sold
    soldier solve somebody someone somewhere son song sorry soul soup south space speech spent spider
    spirit splendid spoil spoke spoon sport spread square squirrel stage stair stamp standing star
    statement station steak steal stone stood store storm story strange stranger strawberry street student
    study stupid style subject success such sugar suggest suit sunday sunny supper supply surprise sweater
    sweet swim sword table tail taken taking tale talent talk talking tall tape task taste taught tax tea
    teach teacher team tear tee teenager telephone television telling tenant tennis tent terrible terrify
    thank theater thick thief thinking thirsty thirteen thirty though thought thousand threaten thumb
    thunder thursday ticket tidy tiger till tingle tiny tired title toast tobacco toe toilet told tomato
    tomorrow tongue tonight tooth topic total touch toward tower town toy trade tradition tragic trash
    travel treasure treat tree trim triple trouble trousers truck true trust truth tuesday tunnel turkey
    twelve twenty twice twin typical ugly umbrella uncle under understood unhappy uniform university
    unless upset useful useless usual vacation vague vain valley vanish various vast vault vegetable venue
    verb victim view village violin virus visit voice vote wage waist wait waiter waiting walk walking
    wallet wander warn wash waste watch wave weak wealth weary weather wedding wednesday week weekend
    weight weird welcome west wet whatever wheat whether whirling whisper whistle white whole wife wild
    wine wing winner winning wire wisdom wise wish witch within wolf woman wonder wonderful wood wool word
    world worn worry worse worst worth would wound wrap wrestle wrist write writer writing written wrong
    yard yawn year yell yellow yesterday yet young younger youth zebra zero zone
    """.split()
)
