"""Everyday English words, collected for this search: none of them is a misspelling, though a book may not use it.

A customer's "packet" is not to become "packed". Such a word is corrected only to one that the book has near the others of the query.
"""

from __future__ import annotations

from typing import Final

ORDINARY: Final = frozenset(
    """
    able about above across actual added advice afraid afternoon again against agree alarm alive allow almost
    alone along already although amount angle angry annoy answer anybody anyone anywhere apple april area argue
    arm asked asking asleep aunt baby badge baked banana bang bank bare barn basic basket bath beach bear beard
    beast beat beautiful became become bedroom beer began behave being believe belong below beside best better
    bigger bird birthday bite bitter blame blanket bless blind block blood blossom blue board boat body book
    boot border bored born borrow boss both bother bottle bottom bought bowl boy brain branch brave bread
    breakfast breath brick bridge brief bright bring british brother brought brown bucket budget building bunch
    burn bush business busy butter button buyer buying cabin cafe cake calf call calm camp candle cannot capital
    card care careful carpet carry castle cattle caught center century chain chair chance cheap cheese chest
    chicken child children chin choice choose church circle city class clay clever client climate clinic clock
    cloth cloud clue coach coast coat coffee coin collar college comfort coming common company compare concern
    cook cookie copper copy corn corner cotton count country county couple course court cousin crazy cream
    credit crew crime crop crowd cruel cry curious curtain custom daily dairy damn dance danger dare dark date
    daughter dead deaf deal dear death debt december decent decide deer delay deliver dentist desk dinner direct
    dirty dish dislike ditch doctor doing dollar done donkey doubt dozen dream dress drink drinking drove duck
    dull during dusty duty eager early earn earth east easy eating edge egg eight either elbow empty enemy
    energy english enjoy enough entire error evening event everyday everyone evil exactly example excuse
    exercise expect expensive expert extra eye fabric face fact factory fairly faith family famous fancy farm
    farmer father favorite favour fear february feeling fellow felt fence fetch fever field fifteen fifty fight
    figure finger finish flat flavor flower folk follow food foot forest forget forgive fork forty forward
    fourteen fox frame fresh friday fridge friend fright fruit full funny furious future garage garden gate
    gather gave gentle getting ghost gift girl give given giving glad glass glove goat gold golf gone grand
    grandad grandma grandpa grass grateful great green grey grocery group grow growth guess guest guide guilty
    guitar gun hair half hall handsome handy happen happy harbor hardly harm harvest hate haul having health
    heard hearing heart heaven hedge height held hell hello hence hero hidden hide hobby holiday honest honey
    hope horrible horse hospital hotel house human humble hungry hurry hurt husband idea ill imagine important
    income indeed infant inside insist instead insurance invite island jacket january jealous job join joke
    journey joy judge juice july june jury keen kept kettle kick kid kill kind king kiss kitchen kitten knee
    knew knife knock knowledge known lady lake lamb land language large last late laugh laundry law lawyer lazy
    lead leaf learn least leather leave lecture left lemon lend lesson letter library lie life likely lion list
    little lively living loan local logic lonely looking lord lose losing lost lottery love lovely lucky lunch
    luxury madam made magic mail making manager manner march market marriage marry master matter maybe mayor
    meadow meal meant meat medal medicine meeting melt member memory mental mention mercy merry message met
    middle midnight might million mind mine mirror miss mistake modern moment monday money monkey month mood
    moon moral mother mountain mouse mouth movie mud mule murder muscle museum music mystery naked nasty nation
    nature naughty near neat needle neither nephew nerve never news nice niece night nine nobody none nonsense
    north notice novel november nowhere nurse obey object obvious occur ocean october odd offer office often
    onion opinion orange orchard ordinary otherwise outside oven owe owl packet page paid pain paint pair palace
    pale panic pants paper pardon parent park party pass past patch path patient patrol pause paying peace pear
    pencil penny people pepper perfect perhaps person phone photo piano picnic picture piece pig pillow pink
    pity place planet plant plate play pleasant please pleasure plenty pocket poem poet poison police polite
    pond pony pool poor popular porch pork possible postman potato pound powder praise pray precious prefer
    present pretty price pride priest prince prison private prize promise proper proud prove public pupil puppy
    purple purpose purse queen question quick quiet quite rabbit race radio railway rain raise random rather
    reach react reading ready reason receipt recent recipe record refuse regret relax relief remain remember
    remote rent reply rescue respect rest result retired return reward rice rich ride right river road robin
    rock roof room rose rough route royal rude ruin rural sack sad said salad salary salt sand sandwich saturday
    sauce save saying scare school science scissors scream scroll season seat second secret seed seen select
    selfish sell selling send sense sent sentence september serious servant seven several shadow shame share
    sheep shelf shirt shock shore shoulder shout shower showing shown shy sick side sign silent silk silly
    silver similar simple since sing single sink sister sitting sixteen sixty skill skin skirt sleep sleeping
    sleeve slice sly smart smile soap soccer social sock sofa sold soldier somebody someone somewhere son song
    sorry soul soup south space speech spent spider spirit splendid spoil spoke spoon sport spread square
    squirrel stage stair stamp standing star statement station steal stone stood store storm story strange
    strawberry street student study stupid style success such sugar suggest suit sunday sunny supper supply
    surprise sweater sweet swim sword table tail taken taking tale talent talk talking tall tape task taste
    taught tax tea teach teacher team tear teenager telephone television telling tenant tennis terrible terrify
    thank theater thick thief thinking thirsty thirteen thirty though thought thousand threaten thumb thunder
    thursday ticket tidy tiger till tingle tiny tired title toast tobacco toe toilet told tomato tomorrow tongue
    tonight tooth topic total touch toward town toy trade tradition tragic travel treasure treat tree triple
    trouble trousers truck true trust truth tuesday turkey twelve twenty twice twin typical ugly umbrella uncle
    under understood unhappy uniform university unless upset useful useless usual vacation vague vain valley
    vanish various vast vegetable venue verb victim view village violin virus visit voice vote wage waist wait
    waiter waiting walk walking wallet wander warn wash waste watch wave weak wealth weather wedding wednesday
    week weekend weight weird welcome west wet whatever wheat whether whirling whisper whistle white whole wild
    wine wing winner winning wire wisdom wise wish witch within wolf woman wonder wonderful wood wool word world
    worn worry worse worst worth would wound wrap wrestle wrist write writer writing written wrong yard yawn
    year yell yellow yesterday yet young younger youth zebra zero
    """.split()
)
