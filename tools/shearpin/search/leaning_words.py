"""How far words and traits of a query push each kind: written by `python -m _evaluation.leanings`, not by hand."""

from __future__ import annotations

from typing import Final

LEANINGS_TEXT: Final = """
#=mmkmmmomommmm @=kmolmlomomlmm @$=kmpmmlnmnmlmm ^are=mmmpmmmmlmmmm ^auger=nmnmkmmmnmmmm
^can=klnmnmmmmmnmm ^chute=plmmlmmmlmmmm ^clean=mkmmmmmmmommm ^cord=mmmmommmlmmmm ^does=mjmpmmmmmmmmm
^engine=llkmomqmlmmmm ^get=kommmmmmmmmmm ^how=llplmmmqllllm ^i=nomlnmmmmmmjm ^is=llmnlmmmmlpmm
^it=ommmmmmmlmmmm ^left=ommmkmmmmmmmm ^look=mmlolmmmmmmmm ^measure=mmkommmmmmmmm ^new=lommmmmmmmmmm
^no=lllonmmmmmmmm ^oil=ommlllmmmmmmm ^revs=mmoknmmmmmmmm ^rubber=mmmmmlmmommmm ^snow=olmmmmmmmmmmm
^spark=mnomlmmmmlmmm ^spout=mlmmmmmmommmm ^spring=mjmmmmmmqmmmm ^starter=ommmmmmmmmlmm ^stick=lmmmmmmmmommm
^the=mlmllqmmlmmmm ^what=lknmlmmmmnmom ^whats=mmlmmmmmmmmom ^wheel=momllmmmmmmmm ^where=lomommmmmlmkm
^which=mmmmlqmmjmlnm ^why=mmmllmmmlmmpm ^worn=mllmommmmmmmm a=lqkpmomnjklmm after=ljmnommmmmnmm
air=mmonlmmmmllmm air_in=mmomlmmmmlmmm all=nnmnlmmmkmmmm an=lommllmmnmlmm and=kklplmomnmlom
and_down=kmmnmmmmmmmnm and_the=nkmmmmnmmmmmm auger=mnnlkmmnnmlnl auger$=mnmlkmmmnmmom auger_box=lknmmmmnmmmmm
auger_cable=mmnmkmmmommmm augers=ommmmmmmmmmmm back=kmmmlmmmmmomm barely=olmmmmmmmmmmm bearing=mllonmmmlmmmm
before=lnommmmmmmmmm belt=mklollmmommmo belts=nmmlmmmmkmmom big=mlomlomllmmmm blades=llmmmmmnmmomm
blower=llmmlnnlommnm bolts=lllonlmmnmmmm bolts$=mmlmmlmmpmmmm bowl=mnmknmmmmmmmm box=nmnkmmmnlmmmm
brake=mnmlmmmmlmmom broke=knmmmmmmmmnmm by=nklmmnmmkmlpm cable=lmomlmmmommmm can=ilomnmmmmmolm
carb=nkmlmmmmomnmm choke=kpmmkommmmmmm chute=mnmnmmmnknmln chute$=inmmmmmmonmln clean=llmlnmmmmommm
cleaner=mmmommmmmknmm click=lmmlmmmmnmomm coil=mmkommmmlmmmm coil$=mmkpmmmmmmmmm cold=omnmkmmmmmmmm
cold$=ommmkmmmmmmmm compression=lmnommmmmlmmm cord=ohmmpmmmnmmmm cord$=qimmmmmmmmmmm cover=nmmmkmmmnmmmm
dipstick=kmmnnmmmmmmmm do=lsijlmmojnlqm do_i=mnlkmmmmlnmpm do_the=mmmllmmpmmmlm does=ljnpmmmommmmm
does_the=ljnpmmmnmmmmm doing=mrlmlmmmkmmmm drive=ommlllmnlmmmo drive$=mmmmlmmmlmmmo engine=jmmknnqlmmmnm
engine$=nnmmmmmmmmmkm fan=klnmnmmmmmnmm fan$=mmnlommllmmmm find=mmlnmmmmmkmom fins=mlmlommmmmmmm
first=lommmmmmmmmmm fit=mommlmmmlmmmm flap=knmmmmmmnmmmm float=mmmlnmmolmmlm for=jkmnlkmmqplmo
for_the=llollmmmnmlno free=mionlmmmmmmom from=nllolmmmmmnkm from_the=olmllmmmmmnmm full=mlmlommmmmmmm
gas=mplolmmmnmmkm gas$=lrlmkmmmmmlnm gauge=mmlmmmmmmommm gear=nmolkmmlnmmmm gear_oil=lonllmmmmmmmm
gearbox=nllnkmmmommmm get=komllmmnmmmmm going=mnmmlmmmlmmom going$=ommmlmmmlmmmm got=nlmlmmmmmmmom
handle=mlmmkmmmmomnm has=mlmmmpmmkmmnm have=nmommmmmmlmmm head=mmnmommmkmmmm head_gasket=mmmmommmkmmmm
high=mlnpkmmmlmmmm how=llnklmmsjllmp how_do=mjklnmmommmom how_does=mlmlmmmommmmm how_to=mpkmmmmmklmlp
hydro=lkmmnpmmkmmmm hydro$=mlmmmpmmlmmmm i=nnmlmmmmkmolm ice=lmmmmmmmommmm if=mlmknmmmmnnmm
impeller=mmmolmmmmmmmm in=mjolonnlllplm in_the=llmlpnmmlmolm is=oljomnmlkmolm is_it=llmonmmmmmnkm
it=kpnnkmmmknmkp it$=nmlklmmmmoknp itself=nmmmmkmmomlmm just=olmmmmmmmmmmm keeps=nkmmommmlmmmm
key=olmmmmmmmmmlm lash=mplllmmmmmmmm leak=nmmommmmmlmlm leaking=mmmommmmmmmkm left=knnllmmmommmm
lever=mkmmnmmmlmmpm lever$=mlnmlmmmkmmpm lights=mmmmmmmmkmmmp look=mmlplmmmmmmmm lost=mlmmommmnmmmm
machine=nlmmmsmmhmmmm meaning=mlkmmmmmmmmpm measure=mmlommmmmmmmm meter=mlmolmmmmnmmm motor=nllmlmmmommmm
move=jmmlmmmnpmmmm much_oil=lklnommmmmmmm my=lmmmmmmmmmomm new=lrlllmmmlmmmm no=lllnommmmmmmm
not=lnmmommmmmmmm now=nqmmlmmmmmmjm of=lhojjpmlollor of_the=mlmmlmmmomlmp off=nlklokmmomlnm
off$=mkmlommmmmnnm off_the=omllmkmmpmmmm oil=nlmmolmlnmmlm oil$=oolllmmmmmmlm oil_in=mommlmmmmmmmm
old=mpmmkmmmmmmmm on=llomjommmmmom on_the=mjnlnmmmmmnol one=klmlppmllmmnm one$=mmmmommmlmmmm
or=mlnommmmmkmmm out=mlomjmmmmqlmm out$=llommmmmmnmmm out_of=mmmmmmmmommmm over=lomnlmmmnllnm
over$=lnmnkmmmmmlnm over_the=nkmmmmmmnmmmm paddle=lmmmmlmmommmm paddles=kqmmlkmmnmmmm petrol$=kmmonmmmmmmmm
pin=mklkpmmmnnmmm pins=mllmnmmmommmm play=mkpmjmmmmmmom play$=mlnmlmmmmmmom plug=loomlnmmkmlkm
plug$=lolmommmjnmlm pounds=mlplmmmmmmmmm power=mmmmmommlmmmm pull=mjnmmmmmommmm pull_cord=phmmnmmmnmmmm
pull_the=mommmmmmllmmm pulled=ommmlmmmlmmmm pulley=mknmmmmmommmm pulling=mmmmommmlmmmm put=mkmnnmmmmokmm
read=mlmolmmmmmmmm reverse=jrmlmmmmlmmmm revs=mmplmmmmmmmmm right=mlmllmmmpmmmm round=nlmplmmmkknmm
round$=mmmnlmmmlmomm round_the=mmmommmmmkmmm rubber=mlnmmlmnommmm rusted=mpmllmmmlmmmm seal=onmmkmmmmmmmm
shear=lmlonlmmnmlmm shear_bolts=mmmomlmmmmmmm shear_pin=mlmmommmmmmmm sheared=mkmlrmmmlmmmm should=mlpmmmmmmlmmm
side$=mllmommmmmmmm smell=lmmommmmmmmmm snapped=lmmmommmmmmmm snow=mnmlnmmnjolmm so=lpmmlmmmkmmmm
solid=ommmlmmmmmlmm solid$=ommmlmmmmmmmm sound=olmmmmmmmmmmm spark=lmokmmmmnmmmm spark_plug=mnomlmmmnlmmm
spout=llmllmmmqnmmm spring=kmnlmmmmomnmm spring$=lpmmmmmmlmmmm stage=mlmmmmmlommnm stage$=mlmmmmmmommnm
start=knmllnmlmmomm starter$=llmnmmmmommmm stays=olmmlmmmmmmmm steering=nlomjommlmmnm stick=klmmnmmmlpmmm
stick$=mkmmnmmmmommm still=olmmkmmmlmomm stopped=llmmmmmmmmomm swing=nkmolmmmmmmmm switch=lommmmmmlmmmm
tarnbrook=kmmmmommnmmmm tdc=mmllmmmmmmmom that=mimlkmmmsommm the=hmknkrnmlnnkq the_@=mmmmmlmmommmm
the_auger=mmnkmmmmmmmom the_belt=nkmmlmmmnmmmo the_carb=mjmmmmmmonmmm the_chute=jnmnmmmnlnmln the_coil=molmmmmmmmmmm
the_drive=mlllmmmmommmm the_engine=kkomlmmmnmmom the_fan=mmmnommllmmmm the_gas=mmmmommmlmmmm the_impeller=mlmolmmmmmmmm
the_light=mnlommmmkmmmm the_petrol=lmmommmmnmmmm the_plug=lkmmnmmmmommm the_pull=lmmlnmmmommmm the_spout=lmmlmmmmonmmm
the_starter=komnmmmmlmnmm the_tiller=mmmkmmnnmmmmm the_tracks=mnkmmmmmmmmmm there=nmmmmmmmknmmm there$=mmmommmmkmmmm
third=mmmmommmlmmmm tighten=mommmmmmlmmmm tiller=mmmklonnlmmmm tine=mmmmlmmmommmm tip=mlmmlmmmmmlmp
tip_it=mlmmlmmmmmlmp to=lnlkjmmmnrlkp to_turn=ommmmmmmlmmmm too=mlllrmmmkmmmm top=lmmmmmmmommmm
top_of=kmmmmmmmommmm tracks=lnkmmrmmkmmlm tracks$=lnklmrmmkmmlm turn=mlmmmmmnlmomm turn_the=kmmmmmmmmmomm
turning=lmmmommmmmmmm two=mmmmmmmlmmmom two_stage=mmmmmmmlmmmom under=nmmlmmmmmpkmm up=lonmmmmmkmmnm
up$=olnlmmmmmmmmm up_and=kmmnmmmmmmmnm up_the=kqmmlmmmlmmmm valves=mpllkmmmmmmmm valves$=mpllkmmmmmmmm
water=mmmnommmmkmmm weeping=olmmlmmmlmmmm wet=nmmmkmmmnmmmm what=konmkmmmnomlm what_is=mmlmmmmmmmmom
whats=mmlmmmmmmmmom wheel=lolllkmnpmmmm when=lnmplmmmmmmlm where=momplmmmmlmkm which=lmmnlqmmjmlnm
while=kmmmmmmmmmomm why=lmmlnmmmlmmpm wind=mommlmmmlmmmm wire=jnmlmmmmpmmmm with=nkimlspnkmmll
without=lmmmmommmmmmm wont=olmmlmmmmmmmm work=mkmmmmmnmmmnm work$=mkmmmmmnmmmnm working=lommmmmmmmmmm
worn=mklmpmmmlmmmm wrong=mkmmpmmmmmmmm you=lllolmmmnmnmm ~2=kolkknmmnmmqm ~3=qkmlnomlmnmjl
~4=jhkjjtpkmqjmr ~6=kklllpnokomlo ~9=njnolmmnkknom ~complaint=imholyqijmlip ~do=nfjkmmmolrjrp
~do-value=mkqlmmmmmlmmm ~few=lkmlnpnlmlmpl ~ing=lnlmjmmmklmor ~not=pjlnnmmmmmlmm ~part=jlllnmmmkmlsm
~question=ilpmjpmqimkqm ~test=mnmjnmmmmnolm ~the=mlmllqmmlmmmm ~theory=mmknlmmommmmm ~value=nlomkmnkmomlm
~where=kijkjnmksonpo ~whether=jmlulmmmjlpkm ~who=lmnnlmmljnmkp
"""
